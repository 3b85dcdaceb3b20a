package readings

import (
	"math"

	"leastmove/train"
)

// What a set of readings must be able to tell. Ours too.
const (
	// usualError in mm is the standard error of a reading whose error is not stated.
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

// Options is what a fit needs beside the coupling.
type Options struct {
	Checks train.Checks
	Far    float64 // mm from the coupling's plane to the farthest foot of its machines; 0: not known
}

// OptionsOf are those that a train file gives for one of its couplings. The
// coupling need not stand in the train yet.
func OptionsOf(t *train.Train, c *train.Coupling) Options {
	o := Options{Checks: t.Checks}
	for _, e := range [...]train.End{c.From, c.To} {
		m := &t.Machines[e.Machine]
		for _, f := range m.Feet {
			o.Far = math.Max(o.Far, math.Abs(m.At+f.X-c.X))
		}
	}
	return o
}
