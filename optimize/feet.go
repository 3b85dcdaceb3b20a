package optimize

import (
	"math"

	"leastmove/bolts"
	"leastmove/train"
)

// FootOf is what the foot can do.
func FootOf(f train.Foot) bolts.Foot {
	return bolts.Foot{
		Hole:       bolts.Hole{Bolt: f.Bolt, Diameter: f.Hole, At: f.BoltAt},
		Pack:       bolts.Pack{Now: f.Pack, Lower: f.Lower, Raise: f.Raise},
		TravelLeft: f.TravelLeft, TravelRight: f.TravelRight,
	}
}

// Play is how far in mm the bolt may stand from the hole's centre. A hole that
// leaves none still lets its foot tilt with the packs, which takes the foot
// aside by an angle times an angle times a lever: a micrometre is left for that.
func Play(b bolts.Foot) float64 { return math.Max(b.Travel(), aside) }

// FootLimits are the stated limits of foot f of machine m, in the direction in
// which the plan moves it, and the room that is left to it.
func (p *Plan) FootLimits(m, f int) ([]FootLimit, bolts.Room) {
	return FootLimits(p.Train, p.Moves, &p.Planned, m, f)
}

// FootLimits are the stated limits of foot f of machine m of a train, in the direction in
// which it is moved, and the room that is left to it. Moves are nil for a train as it was
// found; else the state must be their true geometry.
func FootLimits(t *train.Train, moves train.Moves, after *train.State, m, f int) ([]FootLimit, bolts.Room) {
	foot := t.Machines[m].Feet[f]
	var move train.FootMove
	var state train.FootState
	if moves != nil {
		move, state = moves[m][f], after.Machines[m].Feet[f]
	}
	b := FootOf(foot)
	var limits []FootLimit
	add := func(kind LimitKind, value, limit float64) {
		if !math.IsInf(limit, 1) {
			limits = append(limits, FootLimit{kind, value, limit})
		}
	}
	switch {
	case move.Up < 0 || foot.Lower < 0:
		add(LimitLower, -move.Up, foot.Lower)
	case move.Up > 0:
		add(LimitRaise, move.Up, foot.Raise)
	}
	if b.Known() {
		add(LimitBolt, b.Off(state.Axial, state.Left), b.Travel())
	}
	switch {
	case move.Left > 0:
		add(LimitTravel, move.Left, foot.TravelLeft)
	case move.Left < 0:
		add(LimitTravel, -move.Left, foot.TravelRight)
	}
	return limits, b.Room(move.Up, state.Left, state.Axial)
}
