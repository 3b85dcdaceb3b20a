package pages

import (
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/train"
)

// Words say single values as the reports say them, for figures.
type Words struct{ s formatter }

// WordsOf are those of a plan's train.
func WordsOf(p *optimize.Plan) Words { return Words{formatterFor(p)} }

// Names, as they may be shown.
func (w Words) Machine(i int) string   { return w.s.Machine(i) }
func (w Words) Foot(m, f int) string   { return w.s.Foot(m, f) }
func (w Words) Coupling(i int) string  { return w.s.Coupling(i) }
func (w Words) Condition(k int) string { return w.s.Condition(k) }

// Side is the word for one side as the file has it.
func (w Words) Side(left bool) string {
	if left {
		return words.Clean(w.s.Train.Sides.Left)
	}
	return words.Clean(w.s.Train.Sides.Right)
}

// Shims is what is done to the pack of a foot in all, Fill in mm among it, and Aside a
// move to a side in mm, as the crew makes them; "" where there is none.
func (w Words) Shims(m, f int, move train.FootMove) string {
	c := w.s.PackChange(m, f, move)
	words := change(w.s.Shim(c.By()))
	if n := w.s.Moved(c.Fill); !n.Zero() && words != "" {
		words += ", " + string(n) + " fills a gap"
	}
	return words
}
func (w Words) Aside(left float64) string { return change(w.s.Side(left)) }

func change(words string) string {
	if words == "no change" {
		return ""
	}
	return words
}

// Percent is a share of a limit, rounded up.
func (w Words) Percent(share float64) string { return words.Percent(share) }

// Left is what is left to a foot in mm, with its unit, rounded down; open where
// the file states no limit.
func (w Words) Left(mm float64) string {
	if n := w.s.Room(mm); n != "" {
		return string(w.s.Left(mm))
	}
	return open
}

// Use names what a use speaks of, and its limit with its unit.
func (w Words) Use(u train.Use) (kind, limit string) {
	switch {
	case u.Kind == train.Gap:
		return u.Kind.String(), words.With(w.s.Length(u.Limit), w.s.LengthUnit())
	case u.Kind.Angular():
		return u.Kind.String(), words.With(w.s.Angle(u.Limit), "mrad")
	}
	return u.Kind.String(), words.With(w.s.Offset(u.Limit), w.s.MoveUnit())
}

// Move is a distance in mm in the unit of moves, as short as it can be said.
func (w Words) Move(mm float64) string {
	v := mm / w.s.Units.Move()
	return words.With(words.Number(words.Fixed(v, words.Decimals(v, 0, words.MostDecimals)).Short()), w.s.MoveUnit())
}

// Length is a distance in mm in the unit of lengths.
func (w Words) Length(mm float64) string {
	return words.With(words.Number(w.s.Station(mm)), w.s.LengthUnit())
}

// MoveUnit is the unit of moves.
func (w Words) MoveUnit() string { return w.s.MoveUnit() }
