package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A FootRoom is how far one foot can go on its own, in mm, +Inf where the file states no limit, and below 0
// where it is past one.
type FootRoom struct {
	Up, Down, Left, Right float64 // mm
	HoleCold, HoleHot     float64 // mm, from the bolt to the hole's edge: cold, and in the condition with the least
	// of its moves, that the file states, in the direction in which it is moved; nil: as found
	Limits                      []optimize.LimitRow
	NearUp, NearDown            bool // so little is left of what it may be raised or lowered
	NearLeft, NearRight         bool // so little is left of its travel or in its bolt hole
	NearHole                    bool // so little is left between bolt and hole in any direction, cold or hot
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
			move, at := FootMove{}, train.FootState{}
			if p != nil && p.Moves != nil {
				move, at = p.Moves[i][f], p.Planned.Machines[i].Feet[f]
			}
			room := roomOf(foot, optimize.FootRoom(t, i, f, move, at))
			room.HoleCold, room.HoleHot = optimize.HoleRoom(t, i, f, at)
			room.NearHole = near(room.HoleHot, foot.Play())
			out[i] = append(out[i], room)
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

// near says whether so little is left in mm of a whole that a foot counts as near its end.
func near(left, whole float64) bool {
	return !math.IsInf(whole, 1) && left <= (1-Near)*math.Max(whole, 0)+Fair
}

func roomOf(foot *train.Foot, room train.Room) FootRoom {
	hole := foot.Play()
	return FootRoom{
		Up: room.Up, Down: room.Down, Left: room.Left, Right: room.Right,
		NearUp: near(room.Up, foot.Raise), NearDown: near(room.Down, foot.Lower),
		NearLeft: near(room.Left, math.Min(foot.TravelLeft, hole)), NearRight: near(room.Right,
			math.Min(foot.TravelRight, hole)),
		BaseBound: room.BaseBound(),
		BoundLeft: room.Left < train.LeastRoom, BoundRight: room.Right < train.LeastRoom,
		NoTravelLeft: foot.TravelLeft < train.LeastRoom, NoTravelRight: foot.TravelRight < train.LeastRoom,
	}
}

// AtEnd names the ways in which a foot that nobody has moved is at its end already, or nearly: with a tenth left of the
// play in its hole to that side, or of its whole way up and down.
func (r *FootRoom) AtEnd() []string {
	var ways []string
	switch {
	case r.BaseBound:
		ways = append(ways, "base-bound")
	case r.NearDown || near(r.Down, r.Down+r.Up):
		ways = append(ways, "nearly base-bound")
	}
	if r.HoleHot < -Fair && r.HoleCold > -Fair {
		return append(ways, "bolt past its hole's edge when hot")
	}
	hole := false
	for _, side := range []struct {
		name                  string
		bound, near, noTravel bool
	}{
		{"left", r.BoundLeft, r.NearLeft, r.NoTravelLeft},
		{"right", r.BoundRight, r.NearRight, r.NoTravelRight},
	} {
		switch {
		case side.bound && side.noTravel:
			ways = append(ways, "no travel to the "+side.name)
		case side.bound:
			ways, hole = append(ways, "bolt-bound to the "+side.name), true
		case side.near && r.NearHole:
			ways, hole = append(ways, "nearly bolt-bound to the "+side.name), true
		case side.near:
			ways = append(ways, "nearly no travel to the "+side.name)
		}
	}
	if r.NearHole && !hole {
		ways = append(ways, "nearly bolt-bound along the train")
	}
	if n := len(ways); n > 0 && r.NearHole && r.HoleHot < r.HoleCold {
		ways[n-1] += " when hot"
	}
	return ways
}
