package optimize_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

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

// A plan uses no more of the couplings' limits than it was asked to.
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
	tr.Couplings[0].Limit.Offset = 0.2 // 0.15 uses three quarters
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
