package view

import (
	"math"
	"slices"

	"leastmove/train"
	"leastmove/train/readings"
)

// Kinds of instruments whose numbers are told apart.
const (
	OffsetDial = train.OffsetDial
	RimDial    = train.RimDial
	FaceDial   = train.FaceDial
)

// A DialKind is one of them.
type DialKind = train.DialKind

// Quarters are 12, 3, 6 and 9 on a clock, in degrees clockwise from 12.
func Quarters() []float64 { return []float64{0, 90, 180, 270} }

// A Target is what one instrument of a coupling is to show, in mm, sag in it.
type Target struct {
	Dial  *train.Dial
	V, H  float64   // of one that gives offsets: + high and + left; else NaN
	Clock []float64 // of one that is turned: at Quarters, zeroed at 12, in its own direction; else nil
}

// Offsets says whether the instrument gives offsets.
func (t *Target) Offsets() bool { return t.Clock == nil }

// Targets are what the instruments of a coupling are to show for a misalignment.
func Targets(c *train.Coupling, m train.Misalignment) []Target {
	var out []Target
	for _, d := range instruments(c) {
		t := Target{Dial: d, V: math.NaN(), H: math.NaN()}
		if d.Kind == train.OffsetDial {
			t.V, t.H = readings.TargetAt(d, c.X, m)
		} else {
			t.Clock = readings.Target(d, c.X, m, Quarters())
		}
		out = append(out, t)
	}
	return out
}

// instruments are those that a coupling was read with, and those that the file
// says will be put on.
func instruments(c *train.Coupling) []*train.Dial {
	all := slices.Concat(c.Dials, c.Targets)
	var out []*train.Dial
	for _, k := range readings.Different(all) {
		out = append(out, &all[k])
	}
	return out
}
