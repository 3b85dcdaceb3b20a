package ways

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func replayed(t *testing.T, moves train.Moves, change func(*train.Train)) *Replayed {
	t.Helper()
	tr := trains.Read(t, "pump", trains.PumpBeside)
	if change != nil {
		change(tr)
	}
	r, err := Replay(context.Background(), tr, moves, optimize.Options{})
	require.NoError(t, err)
	require.Equal(t, optimize.Tried, r.Status)
	return r
}

// All of the way back: 0.2 down and 0.1 right at both stations, 2 × 0.6 in all.
func TestReplayHolds(t *testing.T) {
	r := replayed(t, trains.PumpMoves(-0.2, -0.1, -0.2, -0.1), nil)
	assert.True(t, r.Holds())
	assert.Empty(t, r.Broken)
	assert.Empty(t, r.Misfits)
	assert.InDelta(t, 1.2, r.Total, 1e-9)
	assert.InDelta(t, 0, r.Reached, 1e-4)
	require.Equal(t, optimize.Planned, r.Beside.Status)
	assert.Less(t, r.Beside.Total, r.Total, "the plan that moves least does not go all of the way")
	assert.LessOrEqual(t, r.Beside.Bound, r.Beside.Total)
}

// What the planner makes holds when it is given back.
func TestReplayOfPlan(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	p, err := Make(context.Background(), tr, optimize.Options{Brief: true})
	require.NoError(t, err)
	r, err := Replay(context.Background(), tr, p.Moves, optimize.Options{})
	require.NoError(t, err)
	assert.True(t, r.Holds())
	assert.Empty(t, r.Misfits)
	assert.InDelta(t, p.Total, r.Total, 1e-12)
	assert.InDelta(t, p.Reached, r.Reached, 1e-12)
}

// Only the height is put right: the shaft stands 0.1 left of 0.06. By hand: alone,
// the front going right by δ takes the shaft at the coupling right by 1.2 δ (200 of
// 1000 before it), so that 0.04 / 1.2 = 0.0333 is needed: 0.04 on a dial's steps.
func TestReplayRemedy(t *testing.T) {
	r := replayed(t, trains.PumpMoves(-0.2, 0, -0.2, 0), nil)
	require.Len(t, r.Broken, 1)
	assert.Equal(t, train.LimitOffset, r.Broken[0].Kind)
	require.Len(t, r.Remedies, 1)
	m := r.Remedies[0]
	assert.Equal(t, 1, m.Machine)
	assert.Equal(t, []int{0, 1}, m.Feet)
	assert.Equal(t, "left", m.What)
	assert.Zero(t, m.From)
	assert.InDelta(t, -0.04, m.To, 1e-9)
	assert.Zero(t, m.Left)
	assert.False(t, r.Holds())
}

// One foot of a machine that may roll was typed 0.40 too high. By hand: the front then stands 0.2 higher, the shaft
// at the coupling 0.24; a quarter of what is left at that foot is soft foot, 0.6 of it offset, so that of 0.025 and
// 0.06 both leave 0.1 at most. Both front feet together can't mend the soft foot.
func TestReplayRemedyOfOneFoot(t *testing.T) {
	moves := trains.PumpMoves(-0.2, -0.1, -0.2, -0.1)
	moves[1][0].Up = 0.2
	r := replayed(t, moves, func(tr *train.Train) { tr.Machines[1].Roll = true })
	require.NotEmpty(t, r.Remedies)
	assert.Greater(t, len(r.Broken), len(r.Remedies), "soft feet, too")
	for _, m := range r.Remedies {
		assert.Equal(t, 1, m.Machine)
		assert.Equal(t, []int{0}, m.Feet)
		assert.Equal(t, "up", m.What)
		assert.Zero(t, m.Left)
		assert.InDelta(t, -0.15, m.To, 0.051)
	}
}

// Where two planes are off no one number mends it: 0.1 left and 0.2 high.
func TestReplayNoRemedy(t *testing.T) {
	r := replayed(t, trains.PumpMoves(0, 0, 0, 0), nil)
	require.NotEmpty(t, r.Remedies)
	assert.Equal(t, -1, r.Remedies[0].Machine)
}

// A held machine that is moved all the same makes most of what is off, and is named for it; nothing is changed there.
func TestReplayNamesAHeldMachine(t *testing.T) {
	moves := trains.PumpMoves(-0.2, -0.1, -0.2, -0.1)
	moves[0][0].Left, moves[0][1].Left = 9, 9
	r := replayed(t, moves, nil)
	require.NotEmpty(t, r.Remedies)
	for _, m := range r.Remedies {
		assert.NotZero(t, m.Machine)
		assert.Zero(t, m.Most.Machine)
		assert.Equal(t, []int{0, 1}, m.Most.Feet)
		assert.Equal(t, "left", m.Most.What)
		assert.Less(t, m.Most.Without, m.Value/2)
	}
}

// Each rule of the file is told by the number that breaks it.
func TestReplayMisfits(t *testing.T) {
	for name, c := range map[string]struct {
		moves   func(train.Moves)
		change  func(*train.Train)
		kind    MisfitKind
		foot    int
		nearest float64
		breaks  bool
	}{
		"shims off their step": {func(m train.Moves) { m[1][2].Up, m[1][3].Up = -0.17, -0.17 }, nil, OffStep, 2,
			-0.15, false},
		"finer than a dial": {func(m train.Moves) { m[1][0].Left, m[1][1].Left = -0.104, -0.104 }, nil, OffStep, 0,
			-0.10, false},
		"no shift along":       {func(m train.Moves) { trains.ShiftAlong(m[1], 0.1) }, nil, NoShift, -1, 0, true},
		"left and right packs": {func(m train.Moves) { m[1][3].Up = -0.15 }, nil, NoRoll, 3, -0.2, true},
		"feet apart":           {func(m train.Moves) { m[1][0].Left = -0.2 }, nil, LeftApart, 0, -0.15, true},
		"less than a least move": {func(m train.Moves) { m[1][2].Left, m[1][3].Left = -0.02, -0.02 },
			func(tr *train.Train) { tr.Aim.LeastMove = 0.05 }, TooLittle, 2, -0.05, true},
		"not to be made": {func(m train.Moves) { m[1][2].Up, m[1][3].Up = 0.8, 0.8 },
			func(tr *train.Train) { tr.Shims.MaxPieces = 2 }, Unmakeable, 2, math.NaN(), true},
	} {
		t.Run(name, func(t *testing.T) {
			moves := trains.PumpMoves(-0.2, -0.1, -0.2, -0.1)
			c.moves(moves)
			r := replayed(t, moves, c.change)
			var found *Misfit
			for i := range r.Misfits {
				if m := &r.Misfits[i]; m.Kind == c.kind && m.Foot == c.foot && found == nil {
					found = m
				}
			}
			require.NotNil(t, found, "%+v", r.Misfits)
			assert.Equal(t, 1, found.Machine)
			if math.IsNaN(c.nearest) {
				assert.True(t, math.IsNaN(found.Nearest))
			} else {
				assert.InDelta(t, c.nearest, found.Nearest, 1e-9)
			}
			assert.Equal(t, c.breaks, found.Kind.Breaks())
			if c.breaks {
				assert.False(t, r.Holds())
			}
		})
	}
}

// Limits of feet, with what the numbers take up: 0.35 out of a pack of 0.3; 0.6 to
// the side in a hole that leaves 0.5, and as the pump turns by 0.5 mrad its feet at
// y = 200 go 0.1 along: sqrt(0.6² + 0.1²) = 0.608. The held motor may not be moved.
func TestReplayBreaksFeet(t *testing.T) {
	moves := trains.PumpMoves(-0.35, -0.6, -0.2, -0.1)
	moves[0][0].Up = 0.05
	r := replayed(t, moves, nil)
	has := func(kind train.LimitKind, machine, foot int, value, bound float64) {
		for _, e := range r.Broken {
			if e.Kind == kind && e.Machine == machine && e.Foot == foot {
				assert.InDelta(t, value, e.Value, 1e-3)
				assert.InDelta(t, bound, e.Bound, 1e-9)
				return
			}
		}
		assert.Fail(t, "not broken", "%s of machine %d, foot %d: %+v", kind, machine, foot, r.Broken)
	}
	has(train.LimitLower, 1, 0, 0.35, 0.3)
	has(train.LimitBolt, 1, 1, 0.608, 0.5)
	has(train.LimitHold, 0, -1, 0, 0)
}

// The nearest δ at which (v + gv δ, h + gh δ) is within 1, by hand.
func TestReaches(t *testing.T) {
	for name, c := range map[string]struct {
		v, h, gv, gh float64
		each         bool
		want         []float64
	}{
		"straight in":       {2, 0, 1, 0, false, []float64{-1}},
		"from the far side": {-2, 0, 1, 0, false, []float64{1}},
		"past the disc":     {2, 1.5, 1, 0, false, nil},
		"across it":         {2, 0.6, 1, 0, false, []float64{-1.2}}, // 0.8² + 0.6² = 1
		"no effect":         {2, 0, 0, 0, false, nil},
		"a box":             {2, 0.6, 1, 0, true, []float64{-1}},
		"a box, past":       {2, 1.5, 1, 0, true, nil},
		"a box, both":       {2, 1.5, 1, 1, true, []float64{-1}},
	} {
		got := reaches(c.v, c.h, c.gv, c.gh, 1, c.each)
		require.Len(t, got, len(c.want), name)
		for i := range got {
			assert.InDelta(t, c.want[i], got[i], 1e-9, name)
		}
	}
}

// Moves that are given are judged with the gaps under the feet filled, as a plan's are.
func TestTryWithSoftFeet(t *testing.T) {
	tr := trains.Read(t, "pump", strings.Replace(trains.PumpBeside,
		"stock = [0.05, 0.1, 0.2, 0.5, 1.0, 3.0]\nmax_pieces = 5\n", "", 1))
	tr.Machines[1].Feet[0].Soft = 0.12 // two steps of 0.05 fill it but for 0.02
	p := optimize.Try(tr, tr.Stay())
	state := p.Train.Check(tr.Stay())
	assert.Equal(t, state.Machines, p.Planned.Machines)
	assert.NotZero(t, p.Planned.Machines[1].Feet[0].Soft)

	m := &tr.Machines[1]
	m.Roll, m.Flat = true, 0.06
	tr.Couplings[0].Limit = train.Limit{Offset: 1, Angle: 5, Gap: math.Inf(1)}
	holds := 0
	for f := range m.Feet {
		for _, up := range []float64{-0.05, 0.05} {
			moves := tr.Stay()
			moves[1][f].Up = up
			r, err := Replay(t.Context(), tr, moves, optimize.Options{})
			require.NoError(t, err)
			state := r.Train.Check(moves)
			assert.Equalf(t, len(optimize.Breaks(r.Train, moves, &state, 1)) == 0, r.Holds(), "foot %d by %g: %v", f,
				up, r.Broken)
			if r.Holds() {
				holds++
			}
		}
	}
	assert.Positive(t, holds, "some of them hold")
	assert.Less(t, holds, 2*len(m.Feet), "some do not")
}

// A remedy after which nothing is broken is not one that a rule of the file forbids.
// By hand: 0.1 left is found and 0.06 may be, so a pump moved 0.03 to the right at its
// front and 0.04 at its rear, where the file asks for 0.05 at least, is to go
// further; what brings it back is never less than that.
func TestRemediesKeepTheRules(t *testing.T) {
	tr := trains.Read(t, "pump", strings.Replace(trains.PumpBeside, "[[machine]]",
		"[aim]\nleast_move = 0.05\n[[machine]]", 1))
	require.Equal(t, 0.05, tr.Aim.LeastMove)
	seen := 0
	for _, front := range []float64{0, -0.01, -0.03, -0.06, -0.1} {
		for _, rear := range []float64{0, -0.01, -0.04, -0.06, -0.1} {
			r, err := Replay(t.Context(), tr, trains.PumpMoves(-0.2, front, -0.2, rear), optimize.Options{})
			require.NoError(t, err)
			for _, m := range r.Remedies {
				if m.Machine < 0 || m.Left > 0 {
					continue
				}
				seen++
				after, err := Replay(t.Context(), tr, r.with(m.Machine, m.Feet, m.What, m.To), optimize.Options{})
				require.NoError(t, err)
				assert.Truef(t, after.Holds(), "%g %g: %s %v from %g to %g leaves %v %v", front, rear, m.What, m.Feet, m.From,
					m.To, after.Broken, after.Misfits)
			}
		}
	}
	assert.Positive(t, seen)
}
