package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/train"
	"leastmove/train/readings"
)

// slim is the share of the widest tolerance below which what is left of a coupling's
// limits is next to nothing: 0.005 mm or 0.2 mil, and 0.01 mrad, which is less than
// dials tell.
const slim = 0.1

// A WorkCoupling is what a coupling may read off what is expected, and what it is read with.
type WorkCoupling struct {
	staging.AcceptanceTolerance
	NoRoom      bool // next to nothing is left for the offset and the angle
	NoEndRoom   bool // nor for the distance between shaft ends
	Tells       bool // its instruments tell an offset from an angle
	Instruments []Instrument
}

// Tight says whether next to nothing is left of its limits.
func (c *WorkCoupling) Tight() bool { return c.NoRoom || c.NoEndRoom }

// An Instrument is one that a coupling is read with. What it read is as it was read, cold and
// with nothing moved yet, in mm; NaN where it was not read so.
type Instrument struct {
	*train.Dial
	Margin       float64   // mm that it may be off by, at 3 and 9, or of an offset; NaN: offset and angle decide alone
	ReadV, ReadH float64   // of one that gives offsets: + high and + left
	Read         []float64 // of one that is turned: at Quarters, zeroed at 12, in its own direction, sag in it
}

// MarginAt is what a dial may be off by, so many quarters past 12: at 6 twice as much.
func (d *Instrument) MarginAt(quarter int) float64 {
	if quarter == 2 {
		return 2 * d.Margin
	}
	return d.Margin
}

// workCoupling is coupling i with what it may be off by.
func workCoupling(t *train.Train, i int, tolerance staging.AcceptanceTolerance) WorkCoupling {
	c, most := &t.Couplings[i], optimize.SoftFoot(t.Units)
	dials := instruments(c)
	out := WorkCoupling{
		AcceptanceTolerance: tolerance, NoRoom: tolerance.Share < slim, NoEndRoom: tolerance.Gap < slim*most,
		Tells: len(dials) > 0 && readings.Margins(dials, c.X, 1, 1) != nil,
	}
	var margins []float64
	if !out.NoRoom {
		margins = readings.Margins(dials, c.X, tolerance.Offset, tolerance.Angle)
	}
	for n, d := range dials {
		k := Instrument{Dial: d, Margin: math.NaN(), ReadV: math.NaN(), ReadH: math.NaN()}
		if margins != nil { // far from the coupling's plane too no more than there
			k.Margin = math.Min(margins[n], most)
		}
		if d.Kind != train.OffsetDial {
			k.Read = readings.AsRead(c.Dials, d, Quarters())
		} else {
			k.ReadV, k.ReadH = readings.AsReadAt(c.Dials, d)
		}
		if c.Taken != (train.Share{}) {
			k.ReadV, k.ReadH = math.NaN(), math.NaN()
			for q := range k.Read {
				k.Read[q] = math.NaN()
			}
		}
		out.Instruments = append(out.Instruments, k)
	}
	return out
}
