package report

import "leastmove/train"

// dialDigits are the decimals of a dial that nothing more is known of: 0.01 mm, and
// 0.1 mil, which is between the lines of one that has half mils.
func (n numbers) dialDigits() int {
	if n.units == train.Inches {
		return 1
	}
	return 2
}

// readable is the least in mm that is read off a dial, whatever digits a file has: half
// of 0.01 mm, and 0.1 mil.
func (n numbers) readable() float64 {
	if n.units == train.Inches {
		return n.units.Move() / 10
	}
	return 0.005
}

// graduation is how many decimals the numbers of a coupling's dials have: as many as
// its readings, and no fewer than a dial shows.
func (n numbers) graduation(c *train.Coupling) int {
	out := n.dialDigits()
	for i := range c.Dials {
		for _, mm := range c.Dials[i].Values {
			out = max(out, decimals(mm/n.units.Move(), out, n.fine))
		}
	}
	return out
}

// asRead is a reading in mm with all the digits that it was read with, and no fewer
// than some decimals.
func (n numbers) asRead(mm float64, least int) number {
	v := mm / n.units.Move()
	return fixed(v, decimals(v, least, mostDecimals))
}
