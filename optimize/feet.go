package optimize

import (
	"math"

	"leastmove/train"
)

// Play is how far in mm the bolt may sit from the hole's centre. A hole that leaves none
// still lets its foot tilt with the packs.
func Play(f *train.Foot) float64 { return math.Max(f.Play(), train.BoltTilt) }

// FootRoom is what is left to foot f of machine m after a move that takes it to a place, cold and in every condition.
func FootRoom(t *train.Train, m, f int, move train.FootMove, at train.FootState) train.Room {
	foot := t.Machines[m].Feet[f]
	room := foot.Room(move.Up, at.Left, at.Axial)
	foot.TravelLeft, foot.TravelRight = math.Inf(1), math.Inf(1) // as it grows it slides, which is no move
	for _, s := range t.Slides(m, f) {
		hot := foot.Room(0, at.Left+s.Left, at.Axial+s.Axial)
		room.Left, room.Right = math.Min(room.Left, hot.Left), math.Min(room.Right, hot.Right)
	}
	return room
}

// HoleRoom is what is left in mm between the bolt of foot f of machine m and the edge of its hole, less what must be
// left there, cold and where the growth of a condition leaves the least. Infinite where no hole is stated.
func HoleRoom(t *train.Train, m, f int, at train.FootState) (cold, hot float64) {
	foot := &t.Machines[m].Feet[f]
	if !foot.HoleKnown() {
		return math.Inf(1), math.Inf(1)
	}
	cold = foot.Play() - foot.BoltOff(at.Axial, at.Left)
	hot = cold
	for _, s := range t.Slides(m, f) {
		hot = math.Min(hot, foot.Play()-foot.BoltOff(at.Axial+s.Axial, at.Left+s.Left))
	}
	return cold, hot
}

// FootRoom is what the plan leaves to foot f of machine m; without moves, what it has.
func (p *Plan) FootRoom(m, f int) train.Room {
	if p.Moves == nil {
		return FootRoom(p.Train, m, f, train.FootMove{}, train.FootState{})
	}
	return FootRoom(p.Train, m, f, p.Moves[m][f], p.Planned.Machines[m].Feet[f])
}
