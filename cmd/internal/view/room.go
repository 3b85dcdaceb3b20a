package view

import (
	"math"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/train"
)

// A FootRoom is how far one foot can go on its own, in mm, +Inf where the file states no limit, and below 0
// where it is past one.
type FootRoom struct {
	Up, Down, Left, Right float64 // mm
	// of its moves, that the file states, in the direction in which it is moved; nil: as found
	Limits                      []LimitRow
	NearUp, NearDown            bool // so little is left of what it may be raised or lowered
	NearLeft, NearRight         bool // so little is left of its travel or in its bolt hole
	BaseBound                   bool // nothing may come out from under it
	BoundLeft, BoundRight       bool // nothing is left to that side
	NoTravelLeft, NoTravelRight bool // because the file gives it no travel there: else its bolt is at the hole
}

// roomsOf are those of every foot; without moves as found.
func roomsOf(t *Train, p *optimize.Plan) [][]FootRoom {
	out := make([][]FootRoom, len(t.Machines))
	for i := range t.Machines {
		for f := range t.Machines[i].Feet {
			foot := &t.Machines[i].Feet[f]
			room := optimize.FootRoom(*foot, FootMove{}, train.FootState{})
			if p != nil {
				room = p.FootRoom(i, f)
			}
			out[i] = append(out[i], roomOf(foot, room))
		}
	}
	if p == nil || p.Moves == nil {
		return out
	}
	for _, l := range optimize.Limits(t, p.Moves, &p.Planned, 1) {
		if l.Stated() && !l.Idle && l.Kind.Info().SetBy != train.SetByNone {
			r := &out[l.Machine][l.Foot]
			r.Limits = append(r.Limits, l)
		}
	}
	return out
}

func roomOf(foot *Foot, room bolts.Room) FootRoom {
	hole := math.Inf(1)
	if !math.IsNaN(foot.Hole) && !math.IsNaN(foot.Bolt) {
		hole = (foot.Hole - foot.Bolt) / 2
	}
	near := func(left, whole float64) bool {
		return !math.IsInf(whole, 1) && left <= (1-Near)*math.Max(whole, 0)+Fair
	}
	return FootRoom{
		Up: room.Up, Down: room.Down, Left: room.Left, Right: room.Right,
		NearUp: near(room.Up, foot.Raise), NearDown: near(room.Down, foot.Lower),
		NearLeft: near(room.Left, math.Min(foot.TravelLeft, hole)), NearRight: near(room.Right,
			math.Min(foot.TravelRight, hole)),
		BaseBound: room.BaseBound(),
		BoundLeft: room.Left < bolts.Touch, BoundRight: room.Right < bolts.Touch,
		NoTravelLeft: foot.TravelLeft < bolts.Touch, NoTravelRight: foot.TravelRight < bolts.Touch,
	}
}

// AtEnd names the ways in which a foot that nobody has moved is at its end already.
func (r *FootRoom) AtEnd() []string {
	var ways []string
	if r.BaseBound {
		ways = append(ways, "base-bound")
	}
	for _, side := range []struct {
		name            string
		bound, noTravel bool
	}{{"left", r.BoundLeft, r.NoTravelLeft}, {"right", r.BoundRight, r.NoTravelRight}} {
		switch {
		case !side.bound:
		case side.noTravel:
			ways = append(ways, "no travel to the "+side.name)
		default:
			ways = append(ways, "bolt-bound to the "+side.name)
		}
	}
	return ways
}
