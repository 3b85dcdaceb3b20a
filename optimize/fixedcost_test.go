package optimize_test

import (
	"context"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// Where touching a machine costs something, the plan is the best over all
// choices of machines to hold: every subset is planned on its own, without that
// cost, and the cost added by hand.
func TestFixedCostChoosesTheBestSubset(t *testing.T) {
	t.Parallel()
	cases := []struct {
		family string
		seed   uint64
		fixed  float64 // mm
	}{
		{"plain", 1, 0.8}, {"plain", 2, 3}, {"spacer", 3, 1.5}, {"held", 1, 0.5}, {"gear", 6, 2}, {"plain", 5, 0.1},
	}
	for _, c := range cases[:trains.Draws(1, len(cases))] {
		tr, report := trainfile.Read(c.family, []byte(families.TOML(c.family, c.seed)), trainfile.Options{})
		require.False(t, report.Failed())
		best := math.Inf(1)
		for subset := range 1 << len(tr.Machines) {
			some := *tr
			some.Machines = append([]train.Machine(nil), tr.Machines...)
			for i := range some.Machines {
				some.Machines[i].Hold = some.Machines[i].Hold || subset>>i&1 == 1
			}
			p, err := optimize.Make(context.Background(), &some, optimize.Options{Gap: 1e-9, Use: 0.7})
			require.NoError(t, err)
			if p.Status == optimize.Planned && p.Reached <= 0.7+1e-6 {
				best = math.Min(best, p.Least+c.fixed*float64(p.Moved))
			}
		}
		require.False(t, math.IsInf(best, 1), "%s %d has a plan", c.family, c.seed)
		dear := *tr
		dear.Aim.FixedCost = c.fixed
		p, err := optimize.Make(context.Background(), &dear, optimize.Options{Gap: 1e-9, Use: 0.7})
		require.NoError(t, err)
		assert.InDelta(t, best, p.Least, 0.021, "%s %d: one step of a dial at a pair of feet, by which second-order "+
			"terms may differ", c.family, c.seed)
		assert.False(t, math.IsNaN(p.Bound), "proven")
	}
}

// A foot moves by at least the least move or not at all, and that costs no less
// than moving freely.
func TestLeastMoveIsKept(t *testing.T) {
	for seed := range uint64(trains.Draws(3, 6)) {
		tr, report := trainfile.Read("plain", []byte(families.TOML("plain", seed)), trainfile.Options{})
		require.False(t, report.Failed())
		free, err := optimize.Make(context.Background(), tr, optimize.Options{})
		require.NoError(t, err)
		const least = 0.25 // mm
		tr.Aim.LeastMove = least
		p, err := optimize.Make(context.Background(), tr, optimize.Options{})
		require.NoError(t, err)
		if p.Status != optimize.Planned {
			continue
		}
		assert.GreaterOrEqual(t, p.Least, free.Bound-0.021, "seed %d", seed)
		assert.False(t, math.IsNaN(p.Bound), "seed %d: proven", seed)
		for _, feet := range p.Moves {
			for _, f := range feet {
				for _, v := range []float64{f.Up, f.Left, f.Axial} {
					assert.True(t, v == 0 || math.Abs(v) > least-1e-9, "seed %d: %v", seed, v)
				}
			}
		}
	}
}

// A foot whose hole leaves no clearance still lets its machine tilt with the
// packs: the second order of that must not bar every plan. Where its feet slide as
// it grows there is none.
func TestHoleWithoutClearance(t *testing.T) {
	src, err := os.ReadFile("../examples/turbine/before.toml")
	require.NoError(t, err)
	tr, report := trainfile.Read("example", src, trainfile.Options{})
	require.False(t, report.Failed())
	last := tr.Machines[2].Feet
	for f := range last {
		last[f].Hole = last[f].Bolt
	}
	p, err := optimize.Make(context.Background(), tr, optimize.Options{})
	require.NoError(t, err)
	assert.Equal(t, optimize.Impossible, p.Status)
	trains.Cold(tr)
	p, err = optimize.Make(context.Background(), tr, optimize.Options{})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	assert.Empty(t, p.Cut)
	for _, f := range p.Moves[2] {
		assert.Zero(t, f.Left)
	}
}
