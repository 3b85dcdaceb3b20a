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
	GoOn      bool // every coupling is within what it may be off by
}

// A StageCoupling is one coupling of it, cold and at standstill. Offsets and distances are in
// mm, angles in mrad.
type StageCoupling struct {
	Should, Is train.Reading
	Off        train.Misalignment // Is less Should
	GapOff     float64            // likewise; NaN: not known
	DialOff    float64            // mm, most that a dial is off by, at 6 half of it; where dials are what is accepted
	Within     bool
}

// CheckStage sets a train as it was read after a stage beside the work order. What a coupling may be off by is what
// the work order states for it: between stages of its instruments, where it has any, at the end its acceptance.
func (o *WorkOrder) CheckStage(stage int, after *train.Train) *StageCheck {
	c := &StageCheck{Order: o, Stage: stage, GoOn: true}
	now := optimize.AtRest(after, after.Stay())
	for i := range now {
		should, w := o.Stages[stage].Rest[i], &o.Couplings[i]
		k := StageCoupling{Should: should, Is: now[i], GapOff: now[i].Gap - should.Gap}
		k.Off.V = train.Tilt{Offset: now[i].V.Offset - should.V.Offset, Angle: now[i].V.Angle - should.V.Angle}
		k.Off.H = train.Tilt{Offset: now[i].H.Offset - should.H.Offset, Angle: now[i].H.Angle - should.H.Angle}
		within := func(off, most float64) bool { return math.Abs(off) <= most*(1+Fair) }
		k.Within = within(k.Off.V.Offset, w.AcceptOffset) && within(k.Off.H.Offset, w.AcceptOffset) &&
			within(k.Off.V.Angle, w.AcceptAngle) && within(k.Off.H.Angle, w.AcceptAngle)
		if most := o.dialsMost(stage, i); most > 0 {
			k.DialOff = dialsOff(&after.Couplings[i], should.Misalignment, now[i].Misalignment)
			k.Within = within(k.DialOff, most)
		}
		k.Within = k.Within && (math.IsNaN(k.GapOff) || math.IsNaN(w.Gap) || within(k.GapOff, w.Gap))
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

// dialsOff in mm is the most that an instrument of a coupling shows otherwise than it should, at 6 half of that.
func dialsOff(c *train.Coupling, should, is train.Misalignment) float64 {
	var most float64
	a, b := Targets(c, should), Targets(c, is)
	for n := range a {
		off := []float64{a[n].V - b[n].V, a[n].H - b[n].H}
		for q := range a[n].Clock {
			off = append(off, (a[n].Clock[q]-b[n].Clock[q])/[]float64{1, 1, 2, 1}[q])
		}
		for _, mm := range off {
			if !math.IsNaN(mm) {
				most = math.Max(most, math.Abs(mm))
			}
		}
	}
	return most
}
