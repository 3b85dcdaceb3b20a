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
	Within     bool
}

// CheckStage sets a train as it was read after a stage beside the work order.
func (o *WorkOrder) CheckStage(stage int, after *train.Train) *StageCheck {
	c := &StageCheck{Order: o, Stage: stage, GoOn: true}
	now := optimize.AtRest(after, after.Stay())
	for i := range now {
		should, w := o.Stages[stage].Rest[i], &o.Couplings[i]
		k := StageCoupling{Should: should, Is: now[i], GapOff: now[i].Gap - should.Gap}
		k.Off.V = train.Tilt{Offset: now[i].V.Offset - should.V.Offset, Angle: now[i].V.Angle - should.V.Angle}
		k.Off.H = train.Tilt{Offset: now[i].H.Offset - should.H.Offset, Angle: now[i].H.Angle - should.H.Angle}
		within := func(off, most float64) bool { return math.Abs(off) <= most*(1+Fair) }
		k.Within = within(k.Off.V.Offset, w.Offset) && within(k.Off.H.Offset, w.Offset) &&
			within(k.Off.V.Angle, w.Angle) && within(k.Off.H.Angle, w.Angle) &&
			(math.IsNaN(k.GapOff) || math.IsNaN(w.Gap) || within(k.GapOff, w.Gap))
		c.GoOn = c.GoOn && k.Within
		c.Couplings = append(c.Couplings, k)
	}
	return c
}
