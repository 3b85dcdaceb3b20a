package view

import (
	"math"
	"slices"

	"leastmove/bolts"
	"leastmove/train"
)

// This file says what the plan used of limits that count from where a machine
// sits, where the train file does not have it: it still has the room of before the
// moves, and what is left to do would be reckoned from that.

// least in mm and mrad is what is measured at all.
const least = 0.02

// A UsedUp is what the plan used of one limit and the train file does not say.
type UsedUp struct {
	Kind    UsedUpKind
	Machine int
	Nozzle  int        // of UsedNozzle
	By      float64    // of UsedPitch and UsedRoll mrad, of UsedNozzle mm: what the plan changed, in size
	Found   float64    // of UsedPitch and UsedRoll: mrad off level by the train file
	Feet    []UsedFoot // of the other kinds
}

// A UsedUpKind is which limit it is, and what the train file has of it.
type UsedUpKind int

// The kinds, in the order in which they are told of a machine.
const (
	UsedPitch   UsedUpKind = iota // level along the train is as before
	UsedRoll                      // level across it is as before
	UsedNozzle                    // the displacement allowed is as before
	BoltsNearer                   // bolts sit nearer to the middle of their holes than the plan left them
	BoltsUnsaid                   // bolts sit in the middle of their holes, and the plan moved the feet
	UsedLower                     // lower is as before
	UsedRaise                     // raise is as before
	UsedTravel                    // travel is as before
)

// A UsedFoot is what is used at one foot, in mm and in size.
type UsedFoot struct {
	Foot  int
	Is    float64 // by the train file: where the bolt sits, off the middle of its hole, or the limit
	Used  float64 // by the plan: where it left the bolt, by how much it moved the foot, or what it used
	Of    float64 // of bolts: the clearance of the hole
	Right bool    // of UsedTravel: to the right
}

// explained leaves out where bolts sit at feet that did not go sideways, by what explains the readings
// best: they sit there because of that.
func (r *Verified) explained() {
	if len(r.Verdict.Suspects) == 0 {
		return
	}
	f := &r.Verdict.Suspects[0]
	if f.Cause != NotMade && f.Cause != OneFoot || f.Plane != Sideways || f.Machine < 0 {
		return
	}
	for n := range r.UsedUp {
		if u := &r.UsedUp[n]; u.Machine == f.Machine && ofBolts(u) {
			u.Feet = slices.DeleteFunc(u.Feet, func(foot UsedFoot) bool {
				return f.Feet == nil || slices.Contains(f.Feet, foot.Foot)
			})
		}
	}
	r.UsedUp = slices.DeleteFunc(r.UsedUp, func(u UsedUp) bool { return ofBolts(&u) && len(u.Feet) == 0 })
}

// ofBolts says whether it is about where bolts sit.
func ofBolts(u *UsedUp) bool { return u.Kind == BoltsNearer || u.Kind == BoltsUnsaid }

func (r *Verified) used(u UsedUp) { r.UsedUp = append(r.UsedUp, u) }

// usedUp goes through the machines that were moved.
func (r *Verified) usedUp(p *GivenPlan) {
	state := r.Train.Check(r.Moves)
	for n := range p.Machines {
		g := &p.Machines[n]
		if i := g.Machine; r.Moves.Moved(i) {
			r.tilted(g, &state.Machines[i])
			r.pulled(g, &state.Machines[i])
			r.bolted(g, state.Machines[i].Feet)
			r.limited(g)
		}
	}
}

// tilted says what became of level: it is that of before the plan, or nobody stated it.
func (r *Verified) tilted(g *GivenMachine, state *train.MachineState) {
	const rounding = 0.002 // mrad, of the plan's figures
	level := &r.Train.Machines[g.Machine].Level
	for _, l := range []struct {
		kind                      UsedUpKind
		limit, found, by, planned float64 // mrad
	}{
		{UsedPitch, level.Pitch, level.FoundPitch, state.Motion[train.Pitch], g.Pitch},
		{UsedRoll, level.Roll, level.FoundRoll, state.Motion[train.Roll], g.Roll},
	} {
		if math.IsInf(l.limit, 1) || !(math.Abs(l.by) > least) {
			continue
		}
		before := l.planned - l.by
		if l.found == 0 && !(math.Abs(l.planned) <= rounding) || math.Abs(l.found-before) <= rounding {
			r.used(UsedUp{Kind: l.kind, Machine: g.Machine, By: math.Abs(l.by), Found: l.found})
		}
	}
}

// pulled says what became of nozzles, unless the limit in the file is less than it was.
func (r *Verified) pulled(g *GivenMachine, state *train.MachineState) {
	for n, nozzle := range r.Train.Machines[g.Machine].Nozzles {
		by := state.Nozzles[n]
		if math.IsInf(nozzle.Limit, 1) || by <= least || nozzle.Limit < g.Nozzles[n]-FileRounding/2 {
			continue
		}
		r.used(UsedUp{Kind: UsedNozzle, Machine: g.Machine, Nozzle: n, By: by})
	}
}

// bolted says where bolts sit nearer to the middle of their holes by the file than by the
// plan. A foot does not come back by itself, so where rounding and placing do not explain
// it nobody stated bolt_at anew, or the foot did not go.
func (r *Verified) bolted(g *GivenMachine, went []train.FootState) {
	var nearer, unsaid []UsedFoot
	r.each(g, func(f *GivenFoot, k int, foot *train.Foot) {
		hole := bolts.Hole{Bolt: foot.Bolt, Diameter: foot.Hole, At: foot.BoltAt}
		if !hole.Known() {
			return
		}
		u := UsedFoot{Foot: k, Is: hole.Off(0, 0), Used: f.Bolt.Used, Of: hole.Travel()}
		by := math.Hypot(went[k].Axial, went[k].Left)
		switch {
		case math.IsNaN(u.Used) && foot.BoltAt == [2]float64{} && by > least:
			u.Used = by
			unsaid = append(unsaid, u)
		case u.Is < u.Used-FileRounding-r.Placing:
			nearer = append(nearer, u)
		}
	})
	r.usedAt(BoltsNearer, g, nearer)
	r.usedAt(BoltsUnsaid, g, unsaid)
}

func (r *Verified) usedAt(kind UsedUpKind, g *GivenMachine, feet []UsedFoot) {
	if feet != nil {
		r.used(UsedUp{Kind: kind, Machine: g.Machine, Feet: feet})
	}
}

// limited says where raise, lower and travel in the file are those from before the moves.
// A default is not: lower follows the pack, and a pack from before the moves is told as
// such.
func (r *Verified) limited(g *GivenMachine) {
	var raise, lower, travel []UsedFoot
	r.each(g, func(f *GivenFoot, k int, foot *train.Foot) {
		add := func(to *[]UsedFoot, l GivenLimit, is float64, right bool) {
			if l.Used > FileRounding && math.Abs(is-l.Limit) <= FileRounding { // not where one is NaN
				*to = append(*to, UsedFoot{Foot: k, Is: is, Used: l.Used, Right: right})
			}
		}
		add(&raise, f.Raise, foot.Raise, false)
		if math.IsNaN(foot.Pack) || math.Abs(foot.Pack-f.Pack.Then) <= FileRounding {
			add(&lower, f.Lower, foot.Lower, false)
		}
		if f.Left > 0 {
			add(&travel, f.Travel, foot.TravelLeft, false)
		} else {
			add(&travel, f.Travel, foot.TravelRight, true)
		}
	})
	r.usedAt(UsedLower, g, lower)
	r.usedAt(UsedRaise, g, raise)
	r.usedAt(UsedTravel, g, travel)
}

// each goes through the feet of a machine that the plan names.
func (r *Verified) each(g *GivenMachine, do func(f *GivenFoot, k int, foot *train.Foot)) {
	for n := range g.Feet {
		for _, k := range g.Feet[n].Feet {
			do(&g.Feet[n], k, &r.Train.Machines[g.Machine].Feet[k])
		}
	}
}
