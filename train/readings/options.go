package readings

import (
	"math"

	"leastmove/train"
)

// Defaults are the thresholds where a train file does not say, for mm and for
// inch files. They are ours: no published ones were found. A dial that is read
// to 0.01 mm, or to half a mil, at four positions can be off by 0.02 mm or 1 mil
// in the sum of the ring.
func Defaults(u train.Units) train.Checks {
	if u == train.Inches {
		return train.Checks{
			Ring: 1.5 * train.Mil, Return: 1 * train.Mil, Residual: 1.5 * train.Mil,
			Repeat: 2 * train.Mil, Method: 2 * train.Mil, Span: 8 * train.Inch,
			Survey: 4 * train.Mil, Turned: 0.5,
		}
	}
	return train.Checks{Ring: 0.03, Return: 0.02, Residual: 0.03, Repeat: 0.05, Method: 0.05, Span: 200, Survey: 0.1, Turned: 0.5}
}

// What a set of readings must be able to tell. Ours too.
const (
	// usualError in mm is the standard error of a reading whose error is not
	// stated. It sets the weights; the errors of the result come from the
	// residuals where there are more readings than unknowns.
	usualError = 0.01
	// mostAngle in mrad is the 95 % half-width of the angle, with readings of
	// that error, from which on a set cannot tell the angle: twice a usual
	// limit of a coupling.
	mostAngle = 1
	// mostGain is how many times larger than the error of a reading that of an
	// offset may be that one dial gives. Three positions over half a turn give
	// 1.2, over a quarter 4.2, over 40 degrees 20.
	mostGain = 6
	// fewest is the number of positions that a dial must be read at: its
	// constant, up and sideways are three unknowns.
	fewest = 3
)

// wide is the number of standard errors in half of a 95 % interval.
const wide = 1.959963984540054

// Options is what a fit needs beside the coupling.
type Options struct {
	Checks train.Checks
	Errors train.Errors // where residuals can't tell
	Far    float64      // mm from the coupling's plane to the farthest foot of its machines; 0: not known
}

// OptionsOf are those that a train file gives for one of its couplings. The
// coupling need not stand in the train yet.
func OptionsOf(t *train.Train, c *train.Coupling) Options {
	o := Options{Checks: t.Checks, Errors: t.Errors}
	for _, e := range [...]train.End{c.From, c.To} {
		m := &t.Machines[e.Machine]
		for _, f := range m.Feet {
			o.Far = math.Max(o.Far, math.Abs(m.At+f.X-c.X))
		}
	}
	return o
}
