package words

import (
	"math"

	"leastmove/train"
)

// DialDigits are the decimals of a dial that nothing more is known of: 0.01 mm, and
// 0.1 mil, which is between the lines of one that has half mils.
func (n Numbers) DialDigits() int {
	if n.Units == train.Inches {
		return 1
	}
	return 2
}

// Readable is the least in mm that is read off a dial, whatever digits a file has: half
// of 0.01 mm, and 0.1 mil.
func (n Numbers) Readable() float64 {
	if n.Units == train.Inches {
		return n.Units.Move() / 10
	}
	return 0.005
}

// Graduation is how many decimals the numbers of a coupling's dials have: as many as
// its readings, and no fewer than a dial shows.
func (n Numbers) Graduation(c *train.Coupling) int {
	out := n.DialDigits()
	for i := range c.Dials {
		for _, mm := range c.Dials[i].Values {
			out = max(out, train.Decimals(mm/n.Units.Move(), out, n.FineDecimals))
		}
	}
	return out
}

// Sag is the sag of a bracket in mm, to as many decimals as it needs, four at most, and no fewer than a dial shows.
func (n Numbers) Sag(mm float64) Number {
	v := mm / n.Units.Move()
	return Fixed(v, max(n.DialDigits(), train.Decimals(v, 0, 4)))
}

// AsRead is a reading in mm with all the digits that it was read with, and no fewer
// than some decimals.
func (n Numbers) AsRead(mm float64, least int) Number {
	v := mm / n.Units.Move()
	return Fixed(v, train.Decimals(v, least, train.MostDecimals))
}

// Down is a length in mm to so many decimals, never more than it is.
func (n Numbers) Down(mm float64, decimals int) Number {
	return Floor(math.Max(0, mm)/n.Units.Move(), decimals)
}

// Apart is a distance between shaft ends in mm as a crew reads it, to 0.05 mm or 0.002
// inch (common practice, no source), and by how many mm that is off.
func (n Numbers) Apart(mm float64) (Number, float64) {
	step, digits := n.apartStep()
	read := math.Round(mm/step) * step
	return Fixed(read/n.Units.Length(), digits), math.Abs(read - mm)
}

// ApartDown is a distance in mm in steps of what a crew reads shaft ends to, never more than it is.
func (n Numbers) ApartDown(mm float64) Number {
	step, digits := n.apartStep()
	return Fixed(math.Floor(math.Max(0, mm)/step+1e-9)*step/n.Units.Length(), digits)
}

// apartStep is what a crew reads shaft ends to in mm, and the decimals of that in the file's unit of lengths.
func (n Numbers) apartStep() (mm float64, digits int) {
	if n.Units == train.Inches {
		return 0.002 * n.Units.Length(), 3
	}
	return 0.05, 2
}
