package optimize

import (
	"math"

	"leastmove/bolts"
	"leastmove/train"
)

// footOf is what the foot can do.
func footOf(f train.Foot) bolts.Foot {
	return bolts.Foot{
		Hole:       bolts.Hole{Bolt: f.Bolt, Diameter: f.Hole, At: f.BoltAt},
		Pack:       bolts.Pack{Now: f.Pack, Lower: f.Lower, Raise: f.Raise},
		TravelLeft: f.TravelLeft, TravelRight: f.TravelRight,
	}
}

// play is how far in mm the bolt may stand from the hole's centre. A hole that
// leaves none still lets its foot tilt with the packs, which takes the foot
// aside by an angle times an angle times a lever: a micrometre is left for that.
func play(b bolts.Foot) float64 { return math.Max(b.Travel(), aside) }

func footLimits(foot train.Foot, move train.FootMove, state train.FootState) ([]FootLimit, bolts.Room) {
	b := footOf(foot)
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
