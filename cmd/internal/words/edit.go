package words

import "leastmove/train"

// EditFrom and EditTo are the values of a key of the train file in its units, before and after an edit; a
// limit is rounded to where the plan still fits.
func (n Numbers) EditFrom(key string, v float64) Number { return n.edit(key, v, Fixed) }

func (n Numbers) EditTo(key string, v float64) Number {
	if key == "bolt" {
		return n.edit(key, v, Floor)
	}
	return n.edit(key, v, Ceil)
}

// edit is a value in mm or mrad.
func (n Numbers) edit(key string, v float64, round func(float64, int) Number) Number {
	switch {
	case lengthKey(key):
		return round(v/n.Units.Length(), train.MostDecimals)
	case key == "limit.angle":
		return round(v, train.MostDecimals)
	}
	return round(v/n.Units.Move(), train.MostDecimals)
}

// lengthKey says whether a key of the train file is a length, and no move.
func lengthKey(key string) bool { return key == "hole" || key == "bolt" || key == "limit.gap" }

// EditUnit is the unit of a key of the train file.
func (n Numbers) EditUnit(key string) string {
	switch {
	case lengthKey(key):
		return n.LengthUnit()
	case key == "limit.angle":
		return "mrad"
	}
	return n.MoveUnit()
}

// Cost is the cost of a relaxation, which has no unit.
func Cost(c float64) Number { return Ceil(c, 3) }
