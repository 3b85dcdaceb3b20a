package view

import (
	"math"
	"slices"

	"leastmove/optimize"
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
// best: they sit there because of that. So do those that the plan had go along only, as the machine turned.
func (r *Verified) explained() {
	if len(r.Verdict.Suspects) == 0 {
		return
	}
	f := &r.Verdict.Suspects[0]
	if f.Cause != NotMade && f.Cause != OneFoot || f.Plane != Sideways && f.Plane != Every || f.Machine < 0 {
		return
	}
	for n := range r.UsedUp {
		if u := &r.UsedUp[n]; u.Machine == f.Machine && ofBolts(u) {
			u.Feet = slices.DeleteFunc(u.Feet, func(foot UsedFoot) bool {
				return f.Feet == nil || slices.Contains(f.Feet, foot.Foot) || math.Abs(r.Moves[f.Machine][foot.Foot].Left) <= least
			})
		}
	}
	r.UsedUp = slices.DeleteFunc(r.UsedUp, func(u UsedUp) bool { return ofBolts(&u) && len(u.Feet) == 0 })
}

// ofBolts says whether it is about where bolts sit.
func ofBolts(u *UsedUp) bool { return u.Kind == BoltsNearer || u.Kind == BoltsUnsaid }

// usedUp goes through the limits of the machines that were moved.
func (r *Verified) usedUp(p *GivenPlan) {
	state := r.Train.Check(r.Moves)
	rows := optimize.Limits(r.Train, r.Moves, &state, 1)
	for n := range p.Machines {
		g := &p.Machines[n]
		if !r.Moves.Moved(g.Machine) {
			continue
		}
		u := usedUp{Verified: r, given: g, state: &state.Machines[g.Machine], at: g.byFoot()}
		for n := range rows {
			if rows[n].Machine == g.Machine && rows[n].Stated() {
				u.limit(&rows[n])
			}
		}
		for kind, feet := range u.feet {
			if feet != nil {
				u.say(UsedUp{Kind: UsedUpKind(kind), Feet: feet})
			}
		}
	}
}

// byFoot is what the plan says of each foot of the train's machine; nil of one that it does not name.
func (g *GivenMachine) byFoot() map[int]*GivenFoot {
	at := map[int]*GivenFoot{}
	for n := range g.Feet {
		for _, k := range g.Feet[n].Feet {
			at[k] = &g.Feet[n]
		}
	}
	return at
}

// usedUp is the limits of one machine that was moved.
type usedUp struct {
	*Verified
	given *GivenMachine
	state *train.MachineState
	at    map[int]*GivenFoot
	feet  [UsedTravel + 1][]UsedFoot // of kinds that are told foot by foot
}

func (u *usedUp) say(used UsedUp) {
	used.Machine = u.given.Machine
	u.UsedUp = append(u.UsedUp, used)
}

// limit looks at one limit that the train file states.
func (u *usedUp) limit(l *optimize.LimitRow) {
	level := &u.Train.Machines[l.Machine].Level
	switch l.Kind {
	case train.LimitPitch:
		u.tilted(UsedPitch, level.FoundPitch, u.state.Motion[train.Pitch], u.given.Pitch)
	case train.LimitRoll:
		u.tilted(UsedRoll, level.FoundRoll, u.state.Motion[train.Roll], u.given.Roll)
	case train.LimitNozzle:
		// unless the limit in the file is less than it was
		if l.Value > least && !(l.Bound < u.given.Nozzles[l.Nozzle]-FileRounding/2) {
			u.say(UsedUp{Kind: UsedNozzle, Nozzle: l.Nozzle, By: l.Value})
		}
	}
	if f := u.at[l.Foot]; f != nil {
		u.ofFoot(l, f, &u.Train.Machines[l.Machine].Feet[l.Foot])
	}
}

// tilted says what became of level: it is that of before the plan, or nobody stated it.
// Angles are in mrad: by the file, by the moves, and after them by the plan.
func (u *usedUp) tilted(kind UsedUpKind, found, by, planned float64) {
	const rounding = 0.002 // mrad, of the plan's figures
	unstated := found == 0 && !(math.Abs(planned) <= rounding)
	if math.Abs(by) > least && (unstated || math.Abs(found-(planned-by)) <= rounding) {
		u.say(UsedUp{Kind: kind, By: math.Abs(by), Found: found})
	}
}

// ofFoot says where a limit in the file is that from before the moves. A default is not: lower
// follows the pack, and a pack from before the moves is told as such.
func (u *usedUp) ofFoot(l *optimize.LimitRow, f *GivenFoot, foot *train.Foot) {
	switch {
	case l.Kind == train.LimitBolt && l.Condition < 0:
		u.bolted(l.Foot, f, foot)
	case l.Kind == train.LimitRaise:
		u.asBefore(UsedRaise, l, f.Raise)
	case l.Kind == train.LimitLower && (math.IsNaN(foot.Pack) || math.Abs(foot.Pack-f.Pack.Then) <= FileRounding):
		u.asBefore(UsedLower, l, f.Lower)
	case l.Kind == train.LimitTravel && !l.Idle:
		u.asBefore(UsedTravel, l, f.Travel)
	}
}

func (u *usedUp) asBefore(kind UsedUpKind, l *optimize.LimitRow, given GivenLimit) {
	if given.Used > FileRounding && math.Abs(l.Bound-given.Limit) <= FileRounding { // not where one is NaN
		right := kind == UsedTravel && u.Moves[l.Machine][l.Foot].Left < 0
		u.feet[kind] = append(u.feet[kind], UsedFoot{Foot: l.Foot, Is: l.Bound, Used: given.Used, Right: right})
	}
}

// bolted says where a bolt sits nearer to the middle of its hole by the file than by the
// plan. A foot does not come back by itself, so where rounding and placing do not explain
// it nobody stated bolt_at anew, or the foot did not go.
func (u *usedUp) bolted(k int, f *GivenFoot, foot *train.Foot) {
	used := UsedFoot{Foot: k, Is: foot.BoltOff(0, 0), Used: f.Bolt.Used, Of: foot.Play() + foot.Free}
	by := math.Hypot(u.state.Feet[k].Axial, u.state.Feet[k].Left)
	switch {
	case math.IsNaN(used.Used) && foot.BoltAt == [2]float64{} && by > least:
		used.Used = by
		u.feet[BoltsUnsaid] = append(u.feet[BoltsUnsaid], used)
	case used.Is < used.Used-FileRounding-u.Placing:
		u.feet[BoltsNearer] = append(u.feet[BoltsNearer], used)
	}
}
