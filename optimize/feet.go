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

// Play is how far in mm the bolt may sit from the hole's centre. A hole that leaves none
// still lets its foot tilt with the packs.
func Play(b bolts.Foot) float64 { return math.Max(b.Travel(), train.BoltTilt) }

// FootRoom is what is left to a foot after a move that takes it to a place.
func FootRoom(f train.Foot, move train.FootMove, at train.FootState) bolts.Room {
	return FootOf(f).Room(move.Up, at.Left, at.Axial)
}

// FootRoom is what the plan leaves to foot f of machine m; without moves, what it has.
func (p *Plan) FootRoom(m, f int) bolts.Room {
	if p.Moves == nil {
		return FootRoom(p.Train.Machines[m].Feet[f], train.FootMove{}, train.FootState{})
	}
	return FootRoom(p.Train.Machines[m].Feet[f], p.Moves[m][f], p.Planned.Machines[m].Feet[f])
}
