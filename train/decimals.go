package train

import "math"

// MostDecimals are enough for any step of shims that can be made, in either unit.
const MostDecimals = 5

// Decimals are those that x needs, from least to most.
func Decimals(x float64, least, most int) int {
	for d := least; d < most; d++ {
		if v := x * math.Pow10(d); math.Abs(v-math.Round(v)) < 1e-6 {
			return d
		}
	}
	return most
}

// MoveDecimals are those of a move in the units of the train's file: as many as whole steps of shims need.
func (t *Train) MoveDecimals() int {
	n := 2
	if t.Units == Inches {
		n = 1
	}
	n = Decimals(t.Shims.Step/t.Units.Move(), n, MostDecimals)
	for i := range t.Machines {
		n = Decimals(t.ShimsOf(i).Step/t.Units.Move(), n, MostDecimals)
	}
	return n
}
