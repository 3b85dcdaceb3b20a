package optimize_test

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// up are the pump's packs: front left, front right, rear left, rear right.
func up(by ...float64) train.Moves {
	m := trains.PumpMoves(0, 0, 0, 0)
	for f := range by {
		m[1][f].Up = by[f]
	}
	return m
}

// along is a shift of the pump besides other moves.
func along(m train.Moves, by float64) train.Moves {
	trains.ShiftAlong(m[1], by)
	return m
}

func atFoot(kind train.LimitKind, f int) optimize.Constraint {
	l := optimize.Unplaced(kind)
	l.Machine, l.Foot = 1, f
	return optimize.Constraint{Limit: l}
}

func atPump(kind train.LimitKind) optimize.Constraint {
	l := optimize.Unplaced(kind)
	l.Machine = 1
	return optimize.Constraint{Limit: l}
}

func atCoupling(kind train.LimitKind, condition int) optimize.Constraint {
	return optimize.Constraint{Limit: optimize.OfCoupling(kind, 0, condition)}
}

func pumpFoot(t *train.Train, f int) *train.Foot { return &t.Machines[1].Feet[f] }

func inHole(t *train.Train, f int, play, axial, left float64) {
	foot := pumpFoot(t, f)
	foot.Bolt, foot.Hole, foot.BoltAt = 20, 20+2*play, [2]float64{axial, left}
}

// middle puts two feet between the pump's, as its feet 2 and 3.
func middle(t *train.Train) {
	m := &t.Machines[1]
	left, right := m.Feet[0], m.Feet[1]
	left.Name, left.X, right.Name, right.X = "middle left", 500, "middle right", 500
	m.Feet = slices.Insert(m.Feet, 2, left, right)
}

func bumped(by float64) train.Moves {
	m := trains.PumpMoves(0, 0, 0, 0)
	m[1] = make([]train.FootMove, 6)
	m[1][2].Up, m[1][3].Up = by, by
	return m
}

func spaced(t *train.Train) {
	c := &t.Couplings[0]
	c.Spacer, c.Flex = true, [2]float64{700, 900}
	c.Limit.Offset = math.Inf(1)
}

func gapped(t *train.Train) {
	c := &t.Couplings[0]
	c.FoundGap, c.WantedGap = 3, 3
}

// limits are all kinds that the check knows. The moves are whole steps; what
// they come to is worked out beside them.
func limits() []limited {
	both := func(kind train.LimitKind) []optimize.Constraint {
		return []optimize.Constraint{atCoupling(kind, 0), atCoupling(kind, 1)}
	}
	twice := func(what string) []string {
		return []string{"only, " + what + ", running", "only, " + what + ", cold"}
	}
	return []limited{
		{
			name: "shims out of one pack", moves: trains.PumpMoves(-0.2, 0, -0.2, 0), at: 0.2,
			limit: func(t *train.Train, at float64) { pumpFoot(t, 2).Lower = at },
			words: []string{"pump rear left, shims out"}, ends: []optimize.Constraint{atFoot(train.LimitLower, 2)},
		},
		{
			name: "a pack that must be made higher", moves: trains.PumpMoves(0.2, 0, 0.2, 0), at: -0.2, slack: 1e-5,
			limit: func(t *train.Train, at float64) { pumpFoot(t, 1).Lower = at },
			words: []string{"pump front right, shims out"}, ends: []optimize.Constraint{atFoot(train.LimitLower, 1)},
		},
		{
			name: "shims into one pack", moves: trains.PumpMoves(0.2, 0, 0.2, 0), at: 0.2,
			limit: func(t *train.Train, at float64) { pumpFoot(t, 3).Raise = at },
			words: []string{"pump rear right, shims in"}, ends: []optimize.Constraint{atFoot(train.LimitRaise, 3)},
		},
		{
			name: "travel to the left", moves: trains.PumpMoves(0, 0.3, 0, 0.3), at: 0.3,
			limit: func(t *train.Train, at float64) { pumpFoot(t, 0).TravelLeft, pumpFoot(t, 0).TravelRight = at, 0 },
			words: []string{"pump front left, to the left"}, ends: []optimize.Constraint{atFoot(train.LimitTravel, 0)},
		},
		{
			name: "travel to the right", moves: trains.PumpMoves(0, -0.3, 0, -0.3), at: 0.3,
			limit: func(t *train.Train, at float64) { pumpFoot(t, 0).TravelRight, pumpFoot(t, 0).TravelLeft = at, 0 },
			words: []string{"pump front left, to the right"}, ends: []optimize.Constraint{atFoot(train.LimitTravel, 0)},
		},
		{
			// The check lets a tilt take a foot a micrometre past the edge.
			name: "bolt, sideways", moves: trains.PumpMoves(0, 0.3, 0, 0.3), at: 0.3 - train.BoltTilt,
			limit: func(t *train.Train, at float64) { inHole(t, 2, at, 0, 0) },
			words: []string{"pump rear left, bolt in its hole"}, ends: []optimize.Constraint{atFoot(train.LimitBolt, 2)},
		},
		{
			// 0.1 to the right of the centre, and the foot goes left by 0.2.
			name: "bolt, off the centre", moves: trains.PumpMoves(0, 0.2, 0, 0.2), at: 0.3 - train.BoltTilt,
			limit: func(t *train.Train, at float64) { inHole(t, 2, at, 0, -0.1) },
			words: []string{"pump rear left, bolt in its hole"}, ends: []optimize.Constraint{atFoot(train.LimitBolt, 2)},
		},
		{
			// 0.3 to the side and 0.4 along: 0.5.
			name: "bolt, two ways", moves: along(trains.PumpMoves(0, 0.3, 0, 0.3), -0.4), at: 0.5 - train.BoltTilt,
			limit: func(t *train.Train, at float64) { inHole(t, 1, at, 0, 0) },
			words: []string{"pump front right, bolt in its hole"}, ends: []optimize.Constraint{atFoot(train.LimitBolt, 1)},
		},
		{
			// The pump turns by 1 mrad: its left feet, 200 to the side, go 0.2 back,
			// sqrt(0.5² + 0.2²).
			name: "bolt, by yaw", moves: trains.PumpMoves(0, -0.5, 0, 0.5), at: 0.538516 - train.BoltTilt, slack: 5e-4,
			limit: func(t *train.Train, at float64) { inHole(t, 0, at, 0, 0) },
			words: []string{"pump front left, bolt in its hole"}, ends: []optimize.Constraint{atFoot(train.LimitBolt, 0)},
		},
		{
			// A hole without play: a tilt still has its micrometre, and one for the check.
			// It is the bolt that is set here, as far from 0.002 as the limit would be.
			name: "bolt, a tight hole", moves: trains.PumpMoves(0, 0, 0, 0), at: 0.002, slack: 1e-5,
			limit: func(t *train.Train, at float64) { inHole(t, 3, 0, 0, 0.002-at+0.002) },
			words: []string{"pump rear right, bolt in its hole"}, ends: []optimize.Constraint{atFoot(train.LimitBolt, 3)},
		},
		{
			// Six feet, the middle pair 0.3 higher: the plane rises by 0.1, and 0.2 of
			// it is left there; the leverage is 1/6 + 1/6, so 0.2 / (2/3). At the ends
			// it is 1/6 + 1/6 + 1/4: 0.1 / (5/12) = 0.24.
			name: "soft foot, pack too thick", moves: bumped(0.3), at: 0.3,
			limit: func(t *train.Train, at float64) { middle(t); trains.Flat(t, at) },
			words: []string{"pump middle left, soft foot", "pump middle right, soft foot"},
			ends:  []optimize.Constraint{atFoot(train.LimitFlat, 2), atFoot(train.LimitFlat, 3)},
		},
		{
			name: "soft foot, low", moves: bumped(-0.3), at: 0.3,
			limit: func(t *train.Train, at float64) { middle(t); trains.Flat(t, at) },
			words: []string{"pump middle left, soft foot", "pump middle right, soft foot"},
			ends:  []optimize.Constraint{atFoot(train.LimitFlat, 2), atFoot(train.LimitFlat, 3)},
		},
		{
			// One pack of four 0.2 higher: 0.05 is left at each, by a leverage of 3/4.
			name: "soft foot, a corner", moves: up(0.2), at: 0.2,
			limit: func(t *train.Train, at float64) { trains.Flat(t, at) },
			words: []string{"pump front left, soft foot", "pump front right, soft foot", "pump rear left, soft foot",
				"pump rear right, soft foot"},
			ends: []optimize.Constraint{atFoot(train.LimitFlat, 0), atFoot(train.LimitFlat, 1), atFoot(train.LimitFlat, 2),
				atFoot(train.LimitFlat, 3)},
		},
		{
			// The rear 0.5 higher over 1000: -0.5 mrad, found at -0.2.
			name: "level along", moves: trains.PumpMoves(0, 0, 0.5, 0), at: 0.7,
			limit: func(t *train.Train, at float64) {
				t.Machines[1].Level.FoundPitch, t.Machines[1].Level.Pitch = -0.2, at
			},
			words: []string{"pump, level along the train"}, ends: []optimize.Constraint{atPump(train.LimitPitch)},
		},
		{
			// Left 0.2 higher over 400: 0.5 mrad, found at 0.1.
			name: "level across", moves: up(0.2, 0, 0.2, 0), at: 0.6,
			limit: func(t *train.Train, at float64) {
				t.Machines[1].Level.FoundRoll, t.Machines[1].Level.Roll = 0.1, at
			},
			words: []string{"pump, level across the train"}, ends: []optimize.Constraint{atPump(train.LimitRoll)},
		},
		{
			// sqrt(0.2² + 0.3² + 0.6²).
			name: "nozzle, three ways", moves: along(trains.PumpMoves(0.2, 0.3, 0.2, 0.3), 0.6), at: 0.7,
			limit: func(t *train.Train, at float64) {
				t.Machines[1].Nozzles = []train.Nozzle{{Name: "suction", X: 200, Y: 100, Z: 500, Limit: math.Inf(1)},
					{Name: "discharge", X: 800, Z: 700, Limit: at}}
			},
			words: []string{"pump, nozzle discharge"},
			ends: []optimize.Constraint{{Limit: optimize.Limit{Kind: train.LimitNozzle, Machine: 1, Foot: -1, Nozzle: 1,
				Coupling: -1, Condition: -1}}},
		},
		{
			// A hole would bound it in its place: it is nowhere stated here.
			name: "shift along", moves: along(trains.PumpMoves(0, 0, 0, 0), -0.6), at: 0.6,
			limit: func(t *train.Train, at float64) { t.Machines[1].Axial, t.Relief.AxialMost = true, at },
			words: []string{"pump, along the train"}, ends: []optimize.Constraint{atPump(train.LimitShift)},
		},
		{
			// 0.3 up, 0.4 left.
			name: "offset", moves: trains.PumpMoves(0.3, 0.4, 0.3, 0.4), at: 0.5,
			limit: func(t *train.Train, at float64) { t.Couplings[0].Limit.Offset = at },
			words: twice("offset"), ends: both(train.LimitOffset),
		},
		{
			name: "offset, planes apart", moves: trains.PumpMoves(0.3, 0.4, 0.3, 0.4), at: 0.4,
			limit: func(t *train.Train, at float64) {
				t.Couplings[0].Limit.Offset, t.Couplings[0].Limit.EachPlane = at, true
			},
			words: twice("offset"), ends: both(train.LimitOffset),
		},
		{
			// The rear 0.3 higher and 0.4 to the left, over 1000.
			name: "angle", moves: trains.PumpMoves(0, 0, 0.3, 0.4), at: 0.5,
			limit: func(t *train.Train, at float64) { t.Couplings[0].Limit.Angle = at },
			words: twice("angle"), ends: both(train.LimitAngle),
		},
		{
			name: "angle, planes apart", moves: trains.PumpMoves(0, 0, 0.4, -0.3), at: 0.4,
			limit: func(t *train.Train, at float64) {
				t.Couplings[0].Limit.Angle, t.Couplings[0].Limit.EachPlane = at, true
			},
			words: twice("angle"), ends: both(train.LimitAngle),
		},
		{
			// A line through the flex plane at 700 that rises by 1 mrad: 0.3 at the front,
			// 1.3 at the rear, 0.2 at the plane at 900. Over 200 between them: 1 mrad
			// at the first one, none at the second.
			name: "first flex plane", moves: trains.PumpMoves(0.3, 0, 1.3, 0), at: 1, slack: 1e-3,
			limit: func(t *train.Train, at float64) { spaced(t); t.Couplings[0].Limit.Angle = at },
			words: twice("first flex plane"), ends: both(train.LimitFlex),
		},
		{
			// To the side and about the plane at 900: 0.1 at the front, 1.1 at the rear.
			name: "second flex plane", moves: trains.PumpMoves(0, -0.1, 0, -1.1), at: 1, slack: 1e-3,
			limit: func(t *train.Train, at float64) { spaced(t); t.Couplings[0].Limit.Angle = at },
			words: twice("second flex plane"), ends: both(train.LimitFlex),
		},
		{
			name: "gap, wider", moves: along(trains.PumpMoves(0, 0, 0, 0), 0.25), at: 0.25,
			limit: func(t *train.Train, at float64) { gapped(t); t.Couplings[0].Limit.Gap = at },
			words: twice("distance between shaft ends"), ends: both(train.LimitGap),
		},
		{
			// The pump leans back by 1 mrad: its shaft, 300 up, goes 0.3 back.
			name: "gap, by pitch", moves: trains.PumpMoves(0, 0, 1, 0), at: 0.3, slack: 2e-3,
			limit: func(t *train.Train, at float64) { gapped(t); t.Couplings[0].Limit.Gap = at },
			words: twice("distance between shaft ends"), ends: both(train.LimitGap),
		},
		{
			// The pump grows by 0.5 and is set 0.5 low: nothing is left when it runs.
			name: "one condition, the second", moves: trains.PumpMoves(-0.5, 0, -0.5, 0), at: 0.5,
			limit: func(t *train.Train, at float64) {
				t.Machines[1].Growth.V.Start, t.Couplings[0].Limit.Offset = 0.5, at
			},
			words: []string{"only, offset, cold"}, ends: []optimize.Constraint{atCoupling(train.LimitOffset, 1)},
		},
		{
			name: "one condition, the first", moves: trains.PumpMoves(0.1, 0, 0.1, 0), at: 0.6,
			limit: func(t *train.Train, at float64) {
				t.Machines[1].Growth.V.Start, t.Couplings[0].Limit.Offset = 0.5, at
			},
			words: []string{"only, offset, running"}, ends: []optimize.Constraint{atCoupling(train.LimitOffset, 0)},
		},
		{
			// Half of the limit in the second one: 0.2 of 0.4.
			name: "a condition's share", moves: trains.PumpMoves(0.2, 0, 0.2, 0), at: 0.4,
			limit: func(t *train.Train, at float64) {
				t.Conditions[1].Use, t.Couplings[0].Limit.Offset = 0.5, at
			},
			words: []string{"only, offset, cold"}, ends: []optimize.Constraint{atCoupling(train.LimitOffset, 1)},
		},
	}
}
