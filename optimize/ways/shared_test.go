package ways

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/robust"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A comparison that starts from a plan comes to the same plans as one that makes
// it anew: sharing saves time and nothing else.
func TestCompareFromAPlan(t *testing.T) {
	tr := example(t, "turbine")
	anew, err := Compare(t.Context(), tr, optimize.Options{}, nil)
	require.NoError(t, err)
	for _, s := range []optimize.Strategy{optimize.LeastTotal, optimize.FewestMachines,
		optimize.RaiseOnly}[:trains.Draws(1, 3)] {
		plan, err := Make(t.Context(), tr, optimize.Options{Strategy: s})
		require.NoError(t, err)
		from, err := Compare(t.Context(), tr, optimize.Options{From: plan}, nil)
		require.NoError(t, err)
		require.Len(t, from, len(anew))
		for i := range anew {
			a, b := anew[i].Plan, from[i].Plan
			assert.Equal(t, a.Status, b.Status)
			assert.Equal(t, a.Moves, b.Moves)
			if a.Status == optimize.Planned {
				assert.Equal(t, a.Bound, b.Bound, "bound of way %d", i)
			}
		}
	}
	// And the strategies that share a start are the plans that each makes alone.
	for i, s := range optimize.Strategies()[:trains.Draws(2, len(optimize.Strategies()))] {
		alone, err := Make(t.Context(), tr, optimize.Options{Strategy: s, Brief: true})
		require.NoError(t, err)
		assert.Equal(t, alone.Moves, anew[i].Plan.Moves, s)
		assert.Equal(t, alone.Solves, anew[i].Plan.Solves, s)
	}
}

// Ways that are compared keep the file's aim, whatever share the plan that they begin
// with had.
func TestCompareAfterAnAssuredPlan(t *testing.T) {
	t.Parallel()
	if !trains.Everything() {
		t.Skip("three comparisons of a train: LEASTMOVE_TESTS=all")
	}
	tr := trains.Stated(trains.Drawn(t, "plain", 103))
	tr.Errors = train.Errors{Offset: 0.002, Angle: 0.005}
	assured, err := robust.MakeChanceConstrained(t.Context(), tr, optimize.Options{}, 0.5)
	require.NoError(t, err)
	require.True(t, assured.ChanceConstraint.Reached)
	other, err := Make(t.Context(), tr, optimize.Options{Use: 0.95, Brief: true})
	require.NoError(t, err)
	anew, err := Compare(t.Context(), tr, optimize.Options{}, nil)
	require.NoError(t, err)
	for _, from := range []*optimize.Plan{assured, other} {
		ways, err := Compare(t.Context(), tr, optimize.Options{From: from}, nil)
		require.NoError(t, err)
		for n := range ways {
			if ways[n].Kind == ByStrategy && ways[n].Strategy != optimize.LeastTotal {
				assert.Equal(t, anew[n].Plan.Total, ways[n].Plan.Total, ways[n].Strategy)
			}
		}
	}
}
