package chart

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// names are names and single values as they stand in a figure.
type names struct{ words.Formatter }

func namesOf(f *view.Figures) names {
	return names{words.FormatterOf(f.Train).WithMoves(f.Moves)}
}

// left is the word for the left side as the file has it.
func (w names) left() string { return words.Clean(w.Train.Sides.Left) }

func change(words string) string {
	if words == "no change" {
		return ""
	}
	return words
}

// toGo is what is left to a foot in mm, rounded down; open where the file states no limit.
func (w names) toGo(mm float64) string {
	if w.Room(mm) == "" {
		return "open"
	}
	return string(w.Left(mm))
}

// use names what a use speaks of, and its limit with its unit.
func (w names) use(u train.Use) (kind, limit string) {
	switch {
	case u.Kind == train.Gap:
		return u.Kind.String(), words.With(w.Length(u.Limit), w.LengthUnit())
	case u.Kind.Angular():
		return u.Kind.String(), words.With(w.Angle(u.Limit), "mrad")
	}
	return u.Kind.String(), words.With(w.Offset(u.Limit), w.MoveUnit())
}

// inMoves is a distance in mm in the unit of moves, as short as it can be said.
func (w names) inMoves(mm float64) string {
	v := mm / w.Units.Move()
	return words.With(words.Number(words.Fixed(v, train.Decimals(v, 0, train.MostDecimals)).Short()), w.MoveUnit())
}

// inLengths is a distance in mm in the unit of lengths.
func (w names) inLengths(mm float64) string {
	return words.With(words.Number(w.Station(mm)), w.LengthUnit())
}
