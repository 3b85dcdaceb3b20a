package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/train"
)

// Near is the share of a limit from which on a foot counts as near its end.
const Near = 0.9

// littleSteps is how many steps of a dial, or of shims, count as little room beside a
// move: a step too far and one for reading it.
const littleSteps = 2

// A Room is what is left in mm beyond a move.
type Room struct {
	Left   float64 // +Inf: no limit is stated
	Little bool    // it is so little that the crew is told
	ByHole bool    // the bolt in its hole ends it, else a limit of the foot's travel or pack
}

// sideRoom is what is left to a foot beyond its side move, which is that of the whole plan.
func sideRoom(p *optimize.Plan, s *staging.Stage, f int) Room {
	foot := &p.Train.Machines[s.Machine].Feet[f]
	move, after := s.Moves[f], &p.Planned.Machines[s.Machine].Feet[f]
	room := p.FootRoom(s.Machine, f)
	out, whole := Room{Left: math.Inf(1), ByHole: true}, math.Inf(1)
	switch {
	case math.Abs(move.Left) < none:
	case move.Left > 0:
		out.Left = room.Left
	default:
		out.Left = room.Right
	}
	if foot.HoleKnown() {
		whole = foot.Play()
		if math.Abs(move.Axial) >= none {
			out.Left = math.Min(out.Left, foot.Play()-foot.BoltOff(after.Axial, after.Left))
		}
	}
	travel := foot.TravelLeft
	if move.Left < 0 {
		travel = foot.TravelRight
	}
	if ends := travel - math.Abs(after.Left); !math.IsInf(travel, 1) && ends <= out.Left+Fair {
		out.ByHole, whole = false, travel
	}
	out.Little = little(out.Left, whole, DialStep(p.Train.Units))
	return out
}

// packRoom is what is left to a pack beyond its change.
func packRoom(p *optimize.Plan, s *staging.Stage, f int) Room {
	foot := &p.Train.Machines[s.Machine].Feet[f]
	room := p.FootRoom(s.Machine, f)
	switch up := s.Moves[f].Up; {
	case math.Abs(up) < none:
		return Room{Left: math.Inf(1)}
	case up > 0:
		return Room{Left: room.Up, Little: little(room.Up, foot.Raise, p.Train.ShimsOf(s.Machine).Step)}
	}
	return Room{Left: room.Down, Little: little(room.Down, foot.Lower, p.Train.ShimsOf(s.Machine).Step)}
}

// little says whether what is left in mm of a range is little; step is the least that can be set.
func little(left, of, step float64) bool {
	return !math.IsInf(left, 1) && (left < littleSteps*step || left < (1-Near)*of)
}

// DialStep is what a dial at a foot shows, in mm: 0.01 mm or 0.5 mil.
func DialStep(u train.Units) float64 {
	if u == train.Inches {
		return train.Mil / 2
	}
	return 0.01
}
