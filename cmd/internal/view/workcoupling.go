package view

import (
	"math"
	"slices"

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
	Instruments []Instrument

	// What a crew accepts is never finer than what it can tell by reading: AcceptOffset in mm and AcceptAngle in
	// mrad, both up and down and sideways. Where the limits leave less, it is what a reading tells, and the
	// engineer decides.
	AcceptOffset, AcceptAngle float64
	EngineerDecides           bool
	// mm, of each instrument, an offset or what a dial shows at 3 and 9, at 6 twice as much: within it offset and
	// angle are within theirs, or where the engineer decides what reading again tells. 0: that is finer than a dial or
	// its reading, so they are worked out.
	AcceptDials float64
	Repeats     float64  // mm, likewise, how far off what was read it may be before anything is moved
	StageDials  float64  // mm, likewise, how far off what it should show after a stage; 0: it is not read with instruments
	Working     *Working // how offset and angle are worked out; nil: no two instruments tell them apart
}

// Tight says whether next to nothing is left of its limits.
func (c *WorkCoupling) Tight() bool { return c.NoRoom || c.NoEndRoom }

// An Instrument is one that a coupling is read with. What it read is as it was read, cold and
// with nothing moved yet, in mm; NaN where it was not read so.
type Instrument struct {
	*train.Dial
	ReadV, ReadH float64   // of one that gives offsets: + high and + left
	Read         []float64 // of one that is turned: at Quarters, zeroed at 12, in its own direction, sag in it
}

// workCoupling is coupling i with what it may be off by.
func workCoupling(t *train.Train, i int, tolerance staging.AcceptanceTolerance) WorkCoupling {
	c := &t.Couplings[i]
	dials := instruments(c)
	out := WorkCoupling{
		AcceptanceTolerance: tolerance, NoRoom: tolerance.Share < slim,
		NoEndRoom: tolerance.Gap < slim*optimize.SoftFoot(t.Units), Working: workingOf(c, dials),
	}
	out.accept(t, i, dials)
	if len(dials) > 0 { // what it should show follows from a reading that is as uncertain as the one that is taken
		out.StageDials = math.Max(out.AcceptDials, 2*out.Repeats)
	}
	for _, d := range dials {
		k := Instrument{Dial: d, ReadV: math.NaN(), ReadH: math.NaN()}
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

// accept is what a crew accepts of coupling i: what its limits leave, and at least what it can tell.
func (c *WorkCoupling) accept(t *train.Train, i int, dials []*train.Dial) {
	step, usual, usualAngle := DialStep(t.Units), 2*DialStep(t.Units), 5*angleStep
	if t.Errors.Stated {
		usual, usualAngle = t.Errors.Offset, t.Errors.Angle
	}
	v, h := t.FoundErrors(i)
	offset := slices.Max([]float64{step, usual, v[0].Offset, h[0].Offset})
	angle := slices.Max([]float64{angleStep, usualAngle, turnedBy(v), turnedBy(h)})
	c.EngineerDecides = c.NoRoom || c.Offset < offset*(1-Fair) || c.Angle < angle*(1-Fair)
	c.AcceptOffset, c.AcceptAngle = math.Max(c.Offset, offset), math.Max(c.Angle, angle)
	c.Repeats = math.Max(step, usual)
	if c.EngineerDecides && len(dials) > 0 { // on what is read, to what a reading tells
		c.AcceptDials = c.Repeats
		return
	}
	margins := readings.Margins(dials, t.Couplings[i].X, c.Offset, c.Angle)
	if margins == nil {
		return
	}
	least := slices.Min(margins)
	if least = math.Min(least, optimize.SoftFoot(t.Units)); least >= c.Repeats*(1-Fair) {
		c.AcceptDials = least
	}
}

// angleStep in mrad is the least angle that is told: 0.01 mm on 1 m. Where the file does not state how good readings
// are, an offset is taken as read to two steps of a dial and an angle to five of these: common practice, no source.
const angleStep = 0.01

// turnedBy is the 95 % half-width of an angle in mrad that two independent errors make.
func turnedBy(e [2]train.Tilt) float64 { return math.Hypot(e[0].Angle, e[1].Angle) }
