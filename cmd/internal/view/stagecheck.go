package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A StageCheck is what was read after a stage of the work beside what should be read then.
type StageCheck struct {
	Order     *WorkOrder
	Stage     int // from 0
	Couplings []StageCoupling
	GoOn      bool // every coupling that was read is within what it may be off by
}

// Unread are the couplings that were not read: those at the machine of the stage, which it should have changed, or
// after the last one all of them; and the others.
func (c *StageCheck) Unread() (due, others []int) {
	machine, last := c.Order.Stages[c.Stage].Stage.Machine, c.Stage == len(c.Order.Stages)-1
	for i := range c.Couplings {
		switch at := i == machine-1 || i == machine; {
		case c.Couplings[i].Read:
		case at || last:
			due = append(due, i)
		default:
			others = append(others, i)
		}
	}
	return due, others
}

// EndsToRead says whether the work order has the distance between shaft ends read after a stage: where that shifts a
// machine along the train, and after the last one.
func (o *WorkOrder) EndsToRead(stage int) bool {
	return o.Stages[stage].Along || stage == len(o.Stages)-1
}

// A StageCoupling is one coupling of it, cold and at standstill. Offsets and distances are in
// mm, angles in mrad.
type StageCoupling struct {
	Should, Is train.Reading
	Off        train.Misalignment // Is less Should
	GapOff     float64            // likewise; NaN: not known
	DialOff    float64            // mm, most that an instrument is off by, at 6 half of it; where MostDials is set
	MostDials  float64            // mm, what that may be; 0: offset and angle are what is accepted
	Read       bool               // else Is and all below say nothing
	Up, Left   bool               // offset and angle of the plane, or what instruments show of it, are within that
	Dials      bool               // likewise what dials are off by
	Ends       bool               // likewise the distance between shaft ends
	Within     bool               // all of them
	Worst      StageReading       // that is off most; no Dial: the coupling has no instruments, or was not read
}

// A StageReading is one number that an instrument shows after a stage, in mm: of one that gives offsets + high and
// + left, of one that is turned as it counts, zeroed at 12.
type StageReading struct {
	*train.Dial
	Quarter    int // of Quarters, of one that is turned; -1: it gives offsets
	Sideways   bool
	Should, Is float64 // as worked out from all that was read of the coupling
}

// Off in mm is Is less Should, at 6 o'clock half of that.
func (r *StageReading) Off() float64 {
	if r.Quarter == 2 {
		return (r.Is - r.Should) / 2
	}
	return r.Is - r.Should
}

// CheckStage sets a train as it was read after a stage of the work beside the work order. read says which couplings
// were read, and ends of which the distance between shaft ends was. What a coupling may be off by is what the work
// order states for it: between stages of its instruments, where it has any, at the end its acceptance.
func (o *WorkOrder) CheckStage(stage int, after *train.Train, read, ends []bool) *StageCheck {
	c := &StageCheck{Order: o, Stage: stage, GoOn: true}
	now := optimize.AtRest(after, after.Stay())
	for i := range now {
		should, w := o.Stages[stage].Rest[i], &o.Couplings[i]
		k := StageCoupling{Should: should, Read: read[i]}
		if !k.Read {
			c.Couplings = append(c.Couplings, k)
			continue
		}
		if k.Is, k.GapOff = now[i], math.NaN(); ends[i] {
			k.GapOff = now[i].Gap - should.Gap
		}
		k.Off.V = train.Tilt{Offset: now[i].V.Offset - should.V.Offset, Angle: now[i].V.Angle - should.V.Angle}
		k.Off.H = train.Tilt{Offset: now[i].H.Offset - should.H.Offset, Angle: now[i].H.Angle - should.H.Angle}
		within := func(off, most float64) bool { return math.Abs(off) <= most*(1+Fair) }
		tilt := func(off train.Tilt) bool {
			return within(off.Offset, w.AcceptOffset) && within(off.Angle, w.AcceptAngle)
		}
		k.Up, k.Left, k.Dials, k.MostDials = tilt(k.Off.V), tilt(k.Off.H), true, o.dialsMost(stage, i)
		var up, left float64
		k.Worst, up, left = worst(&after.Couplings[i], should.Misalignment, now[i].Misalignment)
		if k.MostDials > 0 {
			if k.Worst.Dial != nil {
				k.DialOff = math.Abs(k.Worst.Off())
			}
			k.Up, k.Left = within(up, k.MostDials), within(left, k.MostDials)
			k.Dials = within(k.DialOff, k.MostDials)
		}
		k.Ends = math.IsNaN(k.GapOff) || math.IsNaN(w.Gap) || within(k.GapOff, w.Gap)
		k.Within = k.Up && k.Left && k.Dials && k.Ends
		c.GoOn = c.GoOn && k.Within
		c.Couplings = append(c.Couplings, k)
	}
	return c
}

// dialsMost in mm is what instruments of a coupling may be off by after a stage, at 6 twice that; 0: offset and angle
// are what is accepted.
func (o *WorkOrder) dialsMost(stage, coupling int) float64 {
	if w := &o.Couplings[coupling]; stage < len(o.Stages)-1 && w.StageDials > 0 {
		return w.StageDials
	}
	return o.Couplings[coupling].AcceptDials
}

// worst is the number of a coupling's instruments that is off most, and the most in mm that they are off by up and down
// and sideways: of one that is turned half of what it is off by at 6, and half the difference of 9 and 3.
func worst(c *train.Coupling, should, is train.Misalignment) (most StageReading, up, left float64) {
	take := func(r StageReading) {
		if !math.IsNaN(r.Off()) && (most.Dial == nil || math.Abs(r.Off()) > math.Abs(most.Off())) {
			most = r
		}
	}
	a, b := Targets(c, should), Targets(c, is)
	for n := range a {
		v := StageReading{a[n].Dial, -1, false, a[n].V, b[n].V}
		h := StageReading{a[n].Dial, -1, true, a[n].H, b[n].H}
		if a[n].Offsets() {
			take(v)
			take(h)
			up, left = math.Max(up, math.Abs(v.Off())), math.Max(left, math.Abs(h.Off()))
			continue
		}
		var off [4]float64
		for q := range a[n].Clock {
			r := StageReading{a[n].Dial, q, q%2 == 1, a[n].Clock[q], b[n].Clock[q]}
			take(r)
			off[q] = r.Off()
		}
		up, left = math.Max(up, math.Abs(off[2])), math.Max(left, math.Abs(off[3]-off[1])/2)
	}
	return most, up, left
}
