package robust

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// By hand: one coupling, limits for each plane, errors of its offset alone with a
// standard deviation of 0.02 / 1.96 = 0.0102 mm. The machine stands 0.20 high. Taken
// down until it stands 0.05 high it ends within by a chance of a half; for 95 % it
// may stand 1.645 deviations below that, 0.0332 high. The coupling comes down by 1.5
// times what the near feet do, so they go down by 0.1668 / 1.5 = 0.1112, in steps of
// 0.112 at two feet: 0.224 in all, the far ones stay. Its horizontal offset of -0.01 is
// 3.9 deviations from its limit.
func TestAssuranceByHand(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Shims.Step = 0.001
	trains.Flat(tr, 0.001)
	tr.Couplings[0].Limit.Angle = 10
	tr.Couplings[0].Found = train.Misalignment{V: train.Tilt{Offset: 0.20}, H: train.Tilt{Offset: -0.01}}
	tr.Errors.Offset = 0.02
	p, err := MakeChanceConstrained(context.Background(), tr, optimize.Options{Brief: true}, 0.95)
	require.NoError(t, err)
	require.NotNil(t, p.ChanceConstraint)
	a := p.ChanceConstraint
	require.True(t, a.Reached)
	stands := p.Planned.Couplings[0][0].V.Offset
	assert.InDelta(t, 0.05-1.645*0.02/1.96, stands, 0.0015, "a step, and a margin of 0.3 %")
	assert.GreaterOrEqual(t, inside(stands, 0.02/1.96, 0.05), 0.95)
	assert.InDelta(t, 1.645, a.BackOff, 0.15)
	assert.InDelta(t, a.BackOff*0.02/train.Half95/0.05, a.Most, 1e-9)
	assert.InDelta(t, 0.224, p.Total, 1e-9)
	assert.InDelta(t, 0.224, p.Bound, 1e-9, "proven, at the one limit there is")
	assert.InDelta(t, 0.200, a.Without, 0.004, "1.5 × 0.1 = 0.15")
	assert.Equal(t, MonteCarlo(context.Background(), p, Draws), p.Probability, "as of the same moves anywhere else")
	share := fresh(context.Background(), p)
	assert.GreaterOrEqual(t, share, 0.95)
	assert.Equal(t, monteCarlo(context.Background(), p, 100_000, freshSeed).Within, share)
	assert.NotEqual(t, monteCarlo(context.Background(), p, 100_000, chanceSeed).Within, share,
		"the search has seen those draws")
}

// By hand: sqrt(0.95 × 0.05 / 20,000) is 0.001541, and twice that is the margin.
func TestChanceConstraintKeepsAMargin(t *testing.T) {
	a := chanceSearch{asked: 0.95}
	assert.InDelta(t, 0.953082, a.target(), 1e-6)
	assert.False(t, a.enough(candidatePlan{probability: 0.953}))
	assert.True(t, a.enough(candidatePlan{probability: 0.9531}))
	a.asked = 0.99999999
	assert.LessOrEqual(t, a.target(), 1.0)
}

// errorsDrawn are those of the trains below, which state none. Invented.
func errorsDrawn() train.Errors {
	return train.Errors{Offset: 0.01, Angle: 0.03, Placing: 0.01, Growth: 0.1}
}

// A chance that was reached is there in draws that neither the search nor its
// verification saw, and never missed by more than two standard errors. Nothing has
// the chance and moves less than is proven, and what is not reached says so.
func TestAssuredChanceIsMet(t *testing.T) {
	t.Parallel()
	const asked, freshest, draws = 0.95, 99, 20_000
	met, reached, fell := 0, 0, 0
	for seed := uint64(371); seed < uint64(trains.Draws(372, 374)); seed++ {
		for _, family := range []string{"nozzle", "effort", "gear"}[:trains.Draws(1, 3)] {
			tr := trains.Stated(trains.Drawn(t, family, seed))
			tr.Errors = errorsDrawn()
			p, err := MakeChanceConstrained(context.Background(), tr, optimize.Options{Brief: true, Solves: 2000}, asked)
			require.NoError(t, err)
			if p.Moves == nil {
				assert.Nil(t, p.ChanceConstraint)
				continue
			}
			a := p.ChanceConstraint
			require.NotNil(t, a)
			assert.Empty(t, optimize.Breaks(p.Train, p.Moves, &p.Planned, 1))
			assert.LessOrEqual(t, p.Bound, p.Total+1e-9)
			assert.Equal(t, a.Reached, p.Probability.Within >= asked)
			assert.False(t, a.Reached && a.None, "%s-%d: what is proven not to be was found", family, seed)
			c := monteCarlo(context.Background(), p, draws, freshest)
			if !a.Reached {
				fell++
				assert.Less(t, c.Within, asked+2*c.Error)
				continue
			}
			reached++
			if c.Within >= asked {
				met++
			}
			assert.GreaterOrEqual(t, c.Within, asked-2*c.Error, "%s-%d", family, seed)
		}
	}
	t.Logf("%d of %d met; %d more trains have a plan and not the chance", met, reached, fell)
	assert.GreaterOrEqual(t, reached, trains.Draws(1, 4))
	assert.GreaterOrEqual(t, float64(met), 0.95*float64(reached))
}

// More is asked, more is moved; and what a chance of next to nothing costs is nothing.
func TestAssuranceCosts(t *testing.T) {
	t.Parallel()
	tr := trains.Stated(trains.Drawn(t, "nozzle", 363))
	tr.Errors = errorsDrawn()
	before := 0.0
	all := []float64{0.01, 0.9, 0.99, 0.5, 0.95}[:trains.Draws(3, 5)]
	slices.Sort(all)
	for _, asked := range all {
		p, err := MakeChanceConstrained(context.Background(), tr, optimize.Options{Brief: true}, asked)
		require.NoError(t, err)
		require.True(t, p.ChanceConstraint.Reached, asked)
		assert.GreaterOrEqual(t, p.Total, before-0.01*before, "%g: plans are looked for one by one", asked)
		assert.GreaterOrEqual(t, p.Total, p.Bound)
		before = p.Total
		if asked == 0.01 {
			assert.Zero(t, p.ChanceConstraint.BackOff)
			assert.Equal(t, p.ChanceConstraint.Without, p.Total)
		}
	}
}

// A deviation of twice the limit leaves no plan with the chance, which is proven: at
// best the coupling ends within ±0.05 of 0 by a chance of a third.
func TestNoPlanHasTheChance(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Couplings[0].Found.V.Offset = 0.20
	tr.Errors.Offset = 0.2
	p, err := MakeChanceConstrained(context.Background(), tr, optimize.Options{Brief: true}, 0.95)
	require.NoError(t, err)
	assert.True(t, p.ChanceConstraint.None)
	assert.False(t, p.ChanceConstraint.Reached)
	// Vertical and horizontal, each ±0.05 of a deviation of 0.102.
	best := inside(0, 0.2/1.96, 0.05)
	assert.InDelta(t, best*best, p.Probability.Within, 0.02, "the highest there is")
	tr.Errors = train.Errors{}
	_, err = MakeChanceConstrained(context.Background(), tr, optimize.Options{}, 0.95)
	assert.ErrorIs(t, err, ErrNoErrors)
}

// Margins by hand: a deviation of 0.04 / 1.96 of 0.05 is 0.408 of the offset's limit
// and of 0.08 / 1.96 of 0.10 as much of the angle's, in both planes; two of them leave
// 0.184.
func TestMarginsByHand(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Errors.Offset, tr.Errors.Angle = 0.04, 0.08
	assert.InDeltaSlice(t, []float64{0.1837, 0.1837, 0.1837, 0.1837}, newErrorModel(stay(tr)).backOff(2, true), 1e-4)
	tr.Couplings[0].Limit.EachPlane = false
	assert.InDeltaSlice(t, []float64{0.1837, 0.1837}, newErrorModel(stay(tr)).backOff(2, true), 1e-4, "one disc for both")
	// Side moves alone: 1.5 a - 0.5 b to the left and nothing up, as in
	// TestChanceOfPlacing: 1.5811 × 0.0102 of 0.05 is 0.3227.
	tr.Errors = train.Errors{Placing: 0.02}
	tr.Couplings[0].Limit.Angle = 10
	moves := tr.Stay()
	for f := range moves[1] {
		moves[1][f].Left = 0.02
	}
	e := newErrorModel(&optimize.Plan{Result: optimize.Result{Train: tr, Moves: moves, Planned: tr.Check(moves)}})
	assert.InDelta(t, 1-0.3227, e.backOff(1, true)[0], 1e-4)
	assert.Equal(t, 1.0, e.backOff(1, false)[0], "what is not moved has no such error")
	tr.Couplings[0].Limit.EachPlane = true
	e = newErrorModel(&optimize.Plan{Result: optimize.Result{Train: tr, Moves: moves, Planned: tr.Check(moves)}})
	assert.InDelta(t, 1-0.3227, e.backOff(1, true)[1], 1e-4, "sideways by itself")
	assert.Equal(t, 1.0, e.backOff(1, false)[1])
	assert.InDelta(t, 1.6449, Quantile(0.95), 1e-4)
	assert.InDelta(t, -1.6449, Quantile(0.05), 1e-4)
}

// Assured plans of 100 random trains in 100,000 draws of the sampler in Python, which
// has nothing of the planner's code and finds what an error does by changing the train
// file: 95 or more have the chance, and none misses it by more than two standard errors.
func TestAssuredChanceAgainstNumpy(t *testing.T) {
	t.Parallel()
	const asked = 0.95
	stored := readChances(t, "assured.json")
	require.Len(t, stored, 100)
	met, again := 0, 0
	for _, s := range stored {
		p := s.plan(t)
		require.Empty(t, optimize.Breaks(p.Train, p.Moves, &p.Planned, 1), s.Train)
		if s.Within >= asked {
			met++
		}
		assert.GreaterOrEqual(t, s.Within, asked-2*s.Error, s.Train)
		draws := trains.Draws(2_000, 20_000)
		within := newErrorModel(p).within(context.Background(), draws, 3)
		// True geometry is not in the linear model in Python: half a per cent.
		assert.InDelta(t, s.Within, within, 4*math.Hypot(StandardError(within, draws), s.Error)+0.005, s.Train)
		if !strings.HasPrefix(s.Train, "nozzle") || again == trains.Draws(1, 3) {
			continue
		}
		again++
		// The planner still finds plans as good.
		now, err := MakeChanceConstrained(context.Background(), p.Train, optimize.Options{Brief: true}, asked)
		require.NoError(t, err)
		require.True(t, now.ChanceConstraint.Reached, s.Train)
		p.Total = optimize.Try(p.Train, p.Moves).Total
		assert.LessOrEqual(t, now.Total, p.Total*1.02, s.Train)
	}
	t.Logf("%d of %d met", met, len(stored))
	assert.GreaterOrEqual(t, met, 95)
}

// Plans for two fresh trains, sampled in Python while the test runs.
func TestAssuredChanceLive(t *testing.T) {
	t.Parallel()
	recheck.Live(t, "assured plans of two fresh trains against the sampler in Python")
	const asked = 0.9
	reached := 0
	for seed := uint64(7101); seed < 7107 && reached < 2; seed++ {
		dir := t.TempDir()
		text := families.TOML("nozzle", seed) + "\n[errors]\noffset = 0.01\nangle = 0.02\nplacing = 0.01\ngrowth = " +
			"0.05\ngrowth_least = 0\n"
		p, err := MakeChanceConstrained(context.Background(), trains.Stated(trains.Read(t, "drawn", text)),
			optimize.Options{Brief: true}, asked)
		require.NoError(t, err)
		if p.ChanceConstraint == nil || !p.ChanceConstraint.Reached {
			continue
		}
		reached++
		file, plan := filepath.Join(dir, "train.toml"), filepath.Join(dir, "plan.json")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		shown, err := json.Marshal(recheck.Printed(p))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(plan, shown, 0o600))
		out, err := exec.Command(recheck.Python, "../../testdata/referee/chance.py", "--draws", "50000", "--seed", "11",
			file, plan).CombinedOutput()
		require.NoErrorf(t, err, "%s", out)
		var answer struct{ Within, Error float64 }
		require.NoError(t, json.Unmarshal(out, &answer))
		require.Positive(t, answer.Within)
		assert.GreaterOrEqual(t, answer.Within, asked-2*answer.Error-0.005, "%d; true geometry: half a per cent", seed)
	}
	assert.Equal(t, 2, reached)
}

// Where no plan that the search took for good has the chance by fresh draws, the plan
// shown is the one with the highest chance by them, not the cheapest.
func TestAssuranceFallsBackToTheLikeliest(t *testing.T) {
	tr := trains.Stated(trains.Drawn(t, "plain", 103))
	tr.Errors = train.Errors{Offset: 0.02, Angle: 0.05}
	all, err := optimize.Make(t.Context(), tr, optimize.Options{Use: 1, Brief: true})
	require.NoError(t, err)
	half, err := optimize.Make(t.Context(), tr, optimize.Options{Use: 0.5, Brief: true})
	require.NoError(t, err)
	require.Less(t, all.Total, half.Total)
	a := &chanceSearch{asked: 0.9999, all: all, found: []candidatePlan{{Plan: all, probability: 1},
		{Plan: half, probability: 1}}, bound: math.NaN()}
	p := a.finish(t.Context())
	assert.False(t, p.ChanceConstraint.Reached)
	assert.Equal(t, half.Total, p.Total)
}
