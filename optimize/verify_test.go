package optimize_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// checked is a train that states no limit but those of its coupling, which are far
// off; invented. The pump's feet stand at x = 0 and 1000, 200 to each side; the
// coupling is 200 before the front ones. It was found as it is wanted. It may
// roll, so that feet are set one by one.
const checked = `title = "check (invented)"
units = "mm"
[shims]
step = 0.05
[[machine]]
name = "motor"
height = 300
hold = true
[[machine.foot]]
name = "a"
x = 0
spread = 400
[[machine.foot]]
name = "b"
x = 600
spread = 400
[[machine]]
name = "pump"
at = 1000
height = 300
roll = true
axial = true
[[machine.foot]]
name = "front"
x = 0
spread = 400
[[machine.foot]]
name = "rear"
x = 1000
spread = 400
[[coupling]]
name = "only"
from = "motor"
to = "pump"
x = 800
[coupling.limit]
offset = 50
angle = 50
[coupling.found]
v = { offset = 0, angle = 0 }
h = { offset = 0, angle = 0 }
[[condition]]
name = "cold"
growth = 0
run = 0
`

// A limited is a limit of the train above at which some moves stand: it holds
// where it is wider by slack, and where it is closer the check and Try name
// what it breaks, and nothing else.
type limited struct {
	name  string
	moves train.Moves
	// limit states the limit, in mm or mrad, and whatever else the case needs.
	limit func(t *train.Train, at float64)
	at    float64 // mm or mrad, by hand
	slack float64 // mm or mrad; 0: a ten-thousandth of at
	words []string
	ends  []optimize.Constraint // Value and Bound are not compared
}

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
			name: "soft foot, proud", moves: bumped(0.3), at: 0.3,
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

// broke is what the check and Try say of the moves, with a limit.
func broke(t *testing.T, c *limited, at float64) (words []string, ends []optimize.Constraint) {
	t.Helper()
	tr := trains.Read(t, "check", checked)
	trains.Flat(tr, math.Inf(1))
	c.limit(tr, at)
	state := tr.Check(c.moves)
	for _, e := range optimize.Try(tr, c.moves).Broken {
		e.Value, e.Bound = 0, 0
		ends = append(ends, e)
	}
	return optimize.Breaks(tr, c.moves, &state, 1), ends
}

func TestEachLimitIsCheckedAlone(t *testing.T) {
	for _, c := range limits() {
		t.Run(c.name, func(t *testing.T) {
			slack := c.slack
			if slack == 0 {
				slack = math.Abs(c.at) * 1e-4
			}
			words, ends := broke(t, &c, c.at+slack)
			assert.Empty(t, words, "just within")
			assert.Empty(t, ends, "just within, by Try")
			words, ends = broke(t, &c, c.at-slack)
			require.Len(t, words, len(c.words), "just beyond: %q", words)
			for i := range words {
				assert.Regexp(t, "^"+c.words[i]+": .* beyond ", words[i])
			}
			assert.Equal(t, c.ends, ends, "just beyond, by Try")
		})
	}
}

// A share of the limits that was asked for is the limit of couplings, and of
// nothing else: 0.3 of 0.5 is 0.6 of it, and 0.3 of 0.31 into a pack 0.97.
func TestTheCheckKeepsTheShare(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	trains.Flat(tr, math.Inf(1))
	moves := trains.PumpMoves(0.3, 0, 0.3, 0)
	tr.Couplings[0].Limit.Offset = 0.5
	for f := range tr.Machines[1].Feet {
		pumpFoot(tr, f).Raise = 0.31
	}
	state := tr.Check(moves)
	assert.Empty(t, optimize.Breaks(tr, moves, &state, 0.6001))
	assert.Len(t, optimize.Breaks(tr, moves, &state, 0.5999), 2, "in both conditions")
}

// Rules of how feet are set. By hand: a move may be a millionth of a step off its
// step; feet of one station may stand twice a dial's 0.01 apart, as half of it is
// off the machine's own; 0.05 is not less than 0.05.
func TestTheCheckOfWhatIsSet(t *testing.T) {
	feet := func(words string, feet ...string) []string {
		var out []string
		for _, f := range feet {
			out = append(out, "pump "+f+words)
		}
		return out
	}
	all := []string{"front left", "front right", "rear left", "rear right"}
	apart := func(by float64) train.Moves {
		m := trains.PumpMoves(0, 0, 0, 0)
		m[1][0].Left = by
		return m
	}
	for _, c := range []struct {
		name   string
		moves  train.Moves
		change func(*train.Train)
		want   []string
	}{
		{"shims on their step", trains.PumpMoves(0.2+0.9e-6*0.05, 0, 0.2, 0), nil, nil},
		{"shims off their step", trains.PumpMoves(0.2+1.1e-6*0.05, 0, 0.2, 0), nil,
			feet(", move in whole steps", "front left", "front right")},
		{"sideways on a dial's step", trains.PumpMoves(0, 0.2+0.9e-6*0.01, 0, 0.2), nil, nil},
		{"sideways off a dial's step", trains.PumpMoves(0, 0.2, 0, 0.205), nil, feet(", move in whole steps", "rear left",
			"rear right")},
		{"along on a dial's step", along(trains.PumpMoves(0, 0, 0, 0), 0.21), nil, nil},
		{"along off a dial's step", along(trains.PumpMoves(0, 0, 0, 0), 0.215), nil, feet(", move in whole steps", all...)},
		{"half a mil", trains.PumpMoves(0, 0.5*train.Mil, 0, 0.5*train.Mil),
			func(t *train.Train) { t.Units = train.Inches }, nil},
		{"a quarter of a mil", trains.PumpMoves(0, 0.25*train.Mil, 0, 0.5*train.Mil),
			func(t *train.Train) { t.Units = train.Inches }, feet(", move in whole steps", "front left", "front right")},
		{"the least move", trains.PumpMoves(0.05, -0.05, 0.1, -0.05), func(t *train.Train) { t.Aim.LeastMove = 0.05 }, nil},
		{"less than the least move, up", trains.PumpMoves(0.05, 0, 0.1, 0), func(t *train.Train) { t.Aim.LeastMove = 0.06 },
			feet(" moves by 0.05, less than the least move of 0.06", "front left", "front right")},
		{"less than the least move, left", trains.PumpMoves(0, -0.05, 0, -0.1),
			func(t *train.Train) { t.Aim.LeastMove = 0.06 }, feet(" moves by -0.05, less than the least move of 0.06",
				"front left", "front right")},
		{"less than the least move, along", along(trains.PumpMoves(0, 0, 0, 0), 0.05),
			func(t *train.Train) { t.Aim.LeastMove = 0.06 }, feet(" moves by 0.05, less than the least move of 0.06", all...)},
		{"feet of one machine", apart(0.02), nil, nil},
		{"feet apart", apart(0.04), nil, feet(", side move against the machine's own", "front left", "front right")},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := trains.Read(t, "check", checked)
			trains.Flat(tr, math.Inf(1))
			if c.change != nil {
				c.change(tr)
			}
			state := tr.Check(c.moves)
			got := optimize.Breaks(tr, c.moves, &state, 1)
			require.Len(t, got, len(c.want), "%q", got)
			for i := range got {
				assert.Contains(t, got[i], c.want[i])
			}
		})
	}
}

// A held machine may not be moved by anything, its feet are not asked about, and
// the check and Try both name it.
func TestTheCheckOfHeldMachines(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	moves := tr.Stay()
	state := tr.Check(moves)
	assert.Empty(t, optimize.Breaks(tr, moves, &state, 1))
	moves[0][0].Left = 0.01
	state = tr.Check(moves)
	assert.Equal(t, []string{"motor is held and was moved"}, optimize.Breaks(tr, moves, &state, 1))
	held := optimize.Unplaced(train.LimitHold)
	held.Machine = 0
	assert.Equal(t, []optimize.Constraint{{Limit: held}}, optimize.Try(tr, moves).Broken)
	tr.Machines[0].Hold = false
	assert.Empty(t, optimize.Breaks(tr, moves, &state, 1))
}

// What is not a number keeps no limit.
func TestTheCheckOfWhatIsNotANumber(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	moves := tr.Stay()
	state := tr.Check(moves)
	state.Machines[1].Pitch = math.NaN()
	state.Couplings[0][1].Uses[0].Share = math.NaN()
	assert.Equal(t, []string{"only, offset, cold: NaN beyond 1", "pump, level along the train: NaN beyond +Inf"},
		optimize.Breaks(tr, moves, &state, 1))
}

// A plan is not made of moves that break a limit or the rules, nor of packs that
// the stock does not make: 0.15 takes 0.1 and 0.05, which is not there.
func TestNoPlanIsTakenUnchecked(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*train.Train)
		says   string // "": it is taken
	}{
		{"no limit", func(t *train.Train) {}, ""},
		{"a limit", func(t *train.Train) { pumpFoot(t, 3).Raise = 0.1 }, "pump rear right, shims in: 0.15 beyond 0.1"},
		{"the whole limit", func(t *train.Train) { t.Couplings[0].Limit.Offset = 0.1501 }, ""},
		{"beyond the whole limit", func(t *train.Train) { t.Couplings[0].Limit.Offset = 0.1499 }, "only, offset, running"},
		{"stock", func(t *train.Train) { t.Shims.Stock = []float64{0.05, 0.1} }, ""},
		{"not in stock", func(t *train.Train) { t.Shims.Stock = []float64{0.1, 0.2} },
			"no pack of pump front left can be made from the stock"},
		{"one piece", func(t *train.Train) { t.Shims.Stock, t.Shims.MaxPieces = []float64{0.05, 0.1}, 2 },
			"no pack of pump front left can be made from the stock"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := trains.Read(t, "check", checked)
			c.change(tr)
			p := optimize.NewSolver(tr, optimize.Options{}).Plan
			err := p.Take(trains.PumpMoves(0.15, 0, 0.15, 0), 1)
			if c.says == "" {
				require.NoError(t, err)
				assert.InDelta(t, 4*0.15, p.Total, 1e-9)
				return
			}
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.says)
		})
	}
}

// What a plan costs is counted in the search and in the sum that is printed alike, by
// hand: every foot by itself, times how hard its machine is to move. Shims and side
// moves are those that the feet allow.
func TestEffortAndFeetAreCounted(t *testing.T) {
	for _, effort := range []float64{1, 3} {
		tr := trains.Read(t, "pump", trains.PumpBeside)
		tr.Machines[1].Effort = effort
		m := optimize.NewSolver(tr, optimize.Options{Gap: recheck.Exact, Solves: 20000})
		m.Linearize(context.Background())
		r := m.LeastTotal(t.Context(), tr.Aim.Use)
		require.NotNil(t, r.Steps)
		moves := m.Model.Moves(r.Steps)
		var sum float64
		for _, f := range moves[1] {
			sum += math.Abs(f.Up) + math.Abs(f.Left)
		}
		require.Greater(t, sum, 0.1)
		assert.InDelta(t, effort*sum, r.Value, 1e-9)
		require.NoError(t, m.Plan.Take(moves, tr.Aim.Use))
		assert.InDelta(t, effort*sum, m.Plan.Total, 1e-9)
		assert.InDelta(t, sum, m.Plan.Plain, 1e-9)
	}
}

// The search looks no further than a pack may be lowered and raised.
func TestTheSearchKeepsToThePacks(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	pumpFoot(tr, 2).Raise, pumpFoot(tr, 3).Raise = 0.7, 0.5
	var got [][2]float64
	for _, v := range optimize.Build(tr, nil).Problem.Vars {
		if v.Step == tr.Shims.Step {
			got = append(got, [2]float64{v.Lo, v.Hi})
		}
	}
	require.Len(t, got, 2, "front and rear")
	assert.InDeltaSlice(t, []float64{-0.3, 2}, got[0][:], 1e-9)
	assert.InDeltaSlice(t, []float64{-3, 0.5}, got[1][:], 1e-9, "the closer one of the pair")
}

// A plan takes up no more of the couplings' limits than it was asked to.
func TestThePlanKeepsTheAim(t *testing.T) {
	for _, use := range []float64{0.9, 0.7, 0.5} {
		tr := trains.Read(t, "pump", trains.PumpBeside)
		tr.Aim.Use = use
		p, err := optimize.Make(t.Context(), tr, optimize.Options{Brief: true})
		require.NoError(t, err)
		require.Equal(t, optimize.Planned, p.Status)
		assert.LessOrEqual(t, p.Reached, use*(1+optimize.CheckTolerance))
		assert.Equal(t, use, p.Kept)
	}
}

// The last check is at the share that the plan says it keeps, not at the whole limits.
func TestLastCheckIsAtTheShareKept(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	tr.Couplings[0].Limit.Offset = 0.2 // 0.15 takes up three quarters
	p := optimize.NewSolver(tr, optimize.Options{}).Plan
	require.NoError(t, p.Take(trains.PumpMoves(0.15, 0, 0.15, 0), 0.76))
	assert.ErrorContains(t, optimize.NewSolver(tr, optimize.Options{}).Plan.Take(trains.PumpMoves(0.15, 0, 0.15, 0),
		0.74), "only, offset, running: 0.75 beyond 0.74")
}

// A foot that may not go to one side is at the end of its travel, with the bolt in the
// middle of a wide hole.
func TestTravelIsNotTheBolt(t *testing.T) {
	tr := trains.Read(t, "pump", strings.NewReplacer("bolt = 20\nhole = 21",
		"bolt = 20\nhole = 24\ntravel = { right = 0.3 }", "hole = 24",
		"hole = 24\ntravel = { right = 0 }").Replace(trains.PumpBeside))
	p, err := optimize.Make(t.Context(), tr, optimize.Options{})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	require.Zero(t, tr.Machines[1].Feet[2].TravelRight)
	for _, e := range p.Active {
		assert.NotEqual(t, train.LimitBolt, e.Kind, "%v of %v", e.Value, e.Bound)
	}
}

// The mixed-integer problem of a train is the one that its plan is looked for in: with soft
// feet filled, 0.3 mm less may go in and as much more come out.
func TestProblemOfSoftFeet(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	before := optimize.Problem(tr)
	tr.Machines[1].Feet[0].Soft = 0.3
	tr.Machines[1].Feet[0].Raise, tr.Machines[1].Feet[0].Lower = 2, 1
	k := optimize.Build(optimize.NewSolver(tr, optimize.Options{}).Plan.Train, nil)
	got := optimize.Problem(tr)
	require.Len(t, got.Vars, len(before.Vars))
	assert.Equal(t, k.Problem.Vars, got.Vars)
	v := k.Pack(1, 0)
	assert.InDelta(t, 1.7, got.Vars[v].Hi, 1e-9)
}
