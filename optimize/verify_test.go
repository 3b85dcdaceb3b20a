package optimize_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
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
