package view

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/train"
)

// A WorkOrder is a plan as work for the crew, stage by stage. Lengths are in mm, angles in mrad.
type WorkOrder struct {
	*Plan
	Stages  []WorkStage
	Before  []train.Reading // every coupling before the first stage, cold and at standstill
	Largest Swing           // that uses most of its dial's travel before or after any stage; Travel 0: there is none
	InOrder bool            // one machine after the other, from the first to the last
	Held    []int           // machines that may not be moved
	Stay    []int           // others that are not moved

	Void       bool // an option of the plan makes readings taken before it void: it only shows what that is for
	AimMissed  bool // what is reached is more than the aim of the coupling limits
	SoftFoot   float64
	Placed     float64         // mm, how near to its number a side dial is set: the error of placing, at least a step
	Risen      float64         // mm, how near to its number a foot's dial is: zeroed and read, to a step each time
	TooSoft    []optimize.Soft // feet too soft to align on: softer than SoftFoot in mm
	Couplings  []WorkCoupling  // one for each of the train's
	Tight      []int           // couplings of whose limits next to nothing is left
	Machines   []WorkMachine   // one for each of the train's
	Dialled    bool            // a coupling is read with a rim or a face dial
	Ends       bool            // the distance between some shaft ends is known
	Anew       []float64       // mm, packs to be made of which the pieces are not stated, the thinnest first
	Unmeasured int             // packs that get thinner and are not stated
	FromThree  bool            // a pack has so many pieces that some lie between others
}

// A WorkStage is all that is done to one machine.
type WorkStage struct {
	*staging.Stage
	Packs    bool  // shim packs change
	Sideways bool  // a foot moves sideways
	Along    bool  // the machine is shifted along the train
	Geared   bool  // the machine has two shafts or more, whose teeth touch otherwise now
	Tight    []int // couplings of the machine of whose limits next to nothing is left
	Feet     []WorkFoot
}

// A WorkFoot is what is done at one foot in a stage.
type WorkFoot struct {
	Change   train.PackChange
	Pieces   optimize.Pack // nil slices: not stated
	PackRoom Room          // beyond the change of the pack
	SideRoom Room          // beyond the side move
}

// A Swing is how far a dial at a coupling goes over a turn.
type Swing = staging.Swing

// none in mm is what is no move, and no shim.
const none = optimize.NoPack

// fromThree is how many pieces a pack has that has any between others.
const fromThree = 3

// Order is the work order of a plan that has moves.
func Order(p *Plan) *WorkOrder {
	t, s := p.Train, staging.Stages(p.plan)
	o := &WorkOrder{
		Plan: p, Before: s.Before, Largest: s.Largest, InOrder: s.Plain,
		Void: p.Relieved != nil && disturbs(p.Relieved.Edits), AimMissed: p.Reached > p.Aim*(1+Fair),
		SoftFoot: optimize.SoftFoot(t.Units), Placed: math.Max(DialStep(t.Units), t.Errors.Placing),
		Risen: 2 * DialStep(t.Units),
	}
	for i := range t.Machines {
		o.Machines = append(o.Machines, workMachine(p.plan, i))
		switch {
		case p.Moves.Moved(i):
		case t.Machines[i].Hold:
			o.Held = append(o.Held, i)
		default:
			o.Stay = append(o.Stay, i)
		}
	}
	for _, f := range p.Soft {
		if f.Gap > o.SoftFoot*(1+Fair) {
			o.TooSoft = append(o.TooSoft, f)
		}
	}
	for i, tolerance := range staging.AcceptanceTolerances(p.plan) {
		c := workCoupling(t, i, tolerance)
		o.Couplings = append(o.Couplings, c)
		if c.Tight() {
			o.Tight = append(o.Tight, i)
		}
		o.Dialled = o.Dialled || slices.ContainsFunc(c.Instruments,
			func(d Instrument) bool { return d.Kind != train.OffsetDial })
	}
	o.Ends = slices.ContainsFunc(s.Before, func(r train.Reading) bool { return !math.IsNaN(r.Gap) })
	for n := range s.Stages {
		o.Stages = append(o.Stages, o.stage(&s.Stages[n]))
	}
	o.packsAnew()
	return o
}

// stage is what is to be known of a stage.
func (o *WorkOrder) stage(s *staging.Stage) WorkStage {
	out := WorkStage{Stage: s, Along: math.Abs(s.Moves[0].Axial) > none,
		Packs:  slices.Contains(s.Works, staging.Packing),
		Geared: len(o.Train.Machines[s.Machine].Shafts) > 1}
	for f, m := range s.Moves {
		out.Sideways = out.Sideways || m.Left != 0
		foot := WorkFoot{
			Change:   o.Train.PackChange(s.Machine, f, m.Up),
			PackRoom: packRoom(o.plan, s, f), SideRoom: sideRoom(o.plan, s, f),
		}
		for _, p := range o.Packs {
			if p.Machine == s.Machine && p.Foot == f {
				foot.Pieces = p
			}
		}
		out.Feet = append(out.Feet, foot)
	}
	for _, i := range o.Tight {
		if i == s.Machine-1 || i == s.Machine {
			out.Tight = append(out.Tight, i)
		}
	}
	return out
}

// packsAnew are the packs to be made without knowing what they are made of.
func (o *WorkOrder) packsAnew() {
	for n := range o.Stages {
		if !o.Stages[n].Packs || o.Train.ShimsOf(o.Stages[n].Machine).Stepless {
			continue
		}
		for _, f := range o.Stages[n].Feet {
			switch by := f.Change.By(); {
			case len(f.Pieces.Then) > 0 || math.Abs(by) < none:
			case !math.IsNaN(f.Change.Then):
				o.Anew = append(o.Anew, f.Change.Then)
			case by < 0:
				o.Unmeasured++
			}
		}
	}
	slices.Sort(o.Anew)
	o.FromThree = slices.ContainsFunc(o.Packs, func(p optimize.Pack) bool { return len(p.Then) >= fromThree })
}

// disturbs says whether what an option changes may shift a machine: work at feet, base
// or bolts, or letting go what was held. Readings taken before it are void then.
func disturbs(edits []optimize.Edit) bool {
	return slices.ContainsFunc(edits, func(e optimize.Edit) bool {
		return e.Coupling < 0 && slices.Contains([]string{"hole", "bolt", "cut", "raise", "hold"}, e.Key)
	})
}

// FootNumber is the number of foot f of machine m: feet are numbered through the train, in the order of the file.
func FootNumber(t *train.Train, m, f int) int {
	n := f + 1
	for i := range m {
		n += len(t.Machines[i].Feet)
	}
	return n
}
