package planjson

import (
	"math"
	"strconv"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// unitWords are what the schema says of the units of numbers.
func unitWords() map[string]string {
	return map[string]string{
		"length":   "units.length",
		"move":     "units.move",
		"weighted": "units.move, times the weights of the train file",
		"mrad":     "mrad",
		"degree":   "degrees",
		"share":    "share, 1 is all of it",
		"limit":    "units.move; of angles, flex planes and level mrad; of a gap between shaft ends units.length",
		"price":    "units.move for each unit of the limit",
		"key":      "the unit that the key has in the train file",
		"ratio":    "no unit",
		"measure":  "by the strategy: units.move, share of the limits or count",
		"check":    "units.move; of a sag limit units.length",
		"point":    "units.move; of survey_angle mrad",
	}
}

// bounded says whether the largest number that is believed of a unit is known.
func bounded(unit string) bool {
	switch unit {
	case "length", "move", "mrad", "share", "limit":
		return true
	}
	return false
}

// Value is a number of a plan that was read, in the unit that it has there; NaN where
// it is not stated.
func Value(n Number) float64 {
	v, err := strconv.ParseFloat(string(n), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// Move is a move or an offset in mm; NaN where it is not stated.
func (p *File) Move(n Number) float64 { return Value(n) * p.move }

// move0 is a move in mm; 0 where it is not stated.
func (p *File) move0(n Number) float64 {
	if n == "" {
		return 0
	}
	return p.Move(n)
}

// Length is a length in mm; NaN where it is not stated.
func (p *File) Length(n Number) float64 { return Value(n) * p.length }

// PoseOf is how the shafts of a coupling sit relative to each other; NaN where it is not
// stated.
func (p *File) PoseOf(r *Reading) view.Pose {
	if r == nil {
		r = &Reading{}
	}
	return view.Pose{Misalignment: train.Misalignment{V: p.tilt(r.V), H: p.tilt(r.H)}, Gap: p.Length(r.Gap)}
}

func (p *File) tilt(t Tilt) train.Tilt {
	return train.Tilt{Offset: p.Move(t.Offset), Angle: Value(t.Angle)}
}

// HalfOf are the 95 % half-widths of what was found at a coupling, mm and mrad; NaN where
// they are not stated.
func (p *File) HalfOf(c *Coupling) train.Misalignment {
	var half Half
	if c.Readings != nil {
		half = c.Readings.Half
	}
	return train.Misalignment{V: p.tilt(half.V), H: p.tilt(half.H)}
}

// A Number is one that was printed, in the unit that its tag names: "" where there is
// none.
type Number = words.Number
