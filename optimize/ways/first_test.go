package ways

import (
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
)

// What is told of first is a plan of what was asked, not of the pool that it is taken from, and nothing is proven of it
// yet; it changes nothing of what comes after.
func TestFirstIsOfTheQuestion(t *testing.T) {
	text, err := os.ReadFile("../../examples/turbine/before.toml")
	require.NoError(t, err)
	tr := trains.Read(t, "turbine", string(text))
	var kept Pools
	all := map[string]optimize.Options{
		"least total":      {},
		"no row":           {Use: 0.65},
		"margin":           {Use: 0.5},
		"fewest machines":  {Strategy: optimize.FewestMachines},
		"closest":          {Strategy: optimize.Closest},
		"a machine stays":  {Hold: []string{"compressor"}},
		"raise only":       {Strategy: optimize.RaiseOnly},
		"without a search": {Use: 1},
	}
	if !trains.Everything() {
		all = map[string]optimize.Options{"no row": all["no row"]}
	}
	for name, opt := range all {
		opt.Brief = true
		alone, err := (*Pools)(nil).Ask(t.Context(), tr, opt, 0, 0.95)
		require.NoError(t, err)
		for _, pools := range []*Pools{nil, &kept} {
			var first []*optimize.Plan
			opt.First = func(p *optimize.Plan) { first = append(first, p) }
			a, err := pools.Ask(t.Context(), tr, opt, 0, 0.95)
			require.NoError(t, err, name)
			assert.Equal(t, alone.Plan.Moves, a.Plan.Moves, name)
			assert.Equal(t, alone.Plan.Bound, a.Plan.Bound, name)
			assert.Equal(t, alone.Plan.Solves, a.Plan.Solves, name)
			require.NotEmpty(t, first, name)
			for _, p := range first {
				assert.Equal(t, a.Plan.Strategy, p.Strategy, name)
				assert.Equal(t, a.Plan.Aim, p.Aim, name)
				assert.LessOrEqual(t, p.Reached, a.Plan.Kept*(1+optimize.CheckTolerance), name)
			}
			assert.Equal(t, a.Plan.Moves, first[len(first)-1].Moves, name)
		}
	}
}

// A search that is ended as soon as a plan is known ends with that, at any row of the pool.
func TestEndedAtTheFirst(t *testing.T) {
	text, err := os.ReadFile("../../examples/turbine/before.toml")
	require.NoError(t, err)
	tr := trains.Read(t, "turbine", string(text))
	for _, opt := range []optimize.Options{{}, {Use: 0.65}, {Hold: []string{"compressor"}}}[:trains.Draws(1, 3)] {
		ctx, end := context.WithCancel(t.Context())
		opt.First = func(*optimize.Plan) { end() }
		a, err := (*Pools)(nil).Ask(ctx, tr, opt, 0, 0.95)
		require.NoError(t, err)
		assert.NotEmpty(t, a.Plan.Moves)
	}
}
