package optimize

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// A comparison that starts from a plan comes to the same plans as one that makes
// it anew: sharing saves time and nothing else.
func TestCompareFromAPlan(t *testing.T) {
	text, err := os.ReadFile("../examples/turbine-gear-compressor.toml")
	require.NoError(t, err)
	tr := trains.Read(t, "turbine-gear-compressor", string(text))
	anew, err := Compare(t.Context(), tr, Options{})
	require.NoError(t, err)
	for _, s := range []Strategy{LeastTotal, FewestMachines, RaiseOnly} {
		plan, err := Make(t.Context(), tr, Options{Strategy: s})
		require.NoError(t, err)
		from, err := Compare(t.Context(), tr, Options{From: plan})
		require.NoError(t, err)
		require.Len(t, from, len(anew))
		for i := range anew {
			a, b := anew[i].Plan, from[i].Plan
			assert.Equal(t, a.Status, b.Status)
			assert.Equal(t, a.Moves, b.Moves)
			if a.Status == Planned {
				assert.Equal(t, a.Bound, b.Bound, "bound of way %d", i)
			}
		}
	}
	// And the strategies that share a start are the plans that each makes alone.
	for i, s := range Strategies() {
		alone, err := Make(t.Context(), tr, Options{Strategy: s, Brief: true})
		require.NoError(t, err)
		assert.Equal(t, alone.Moves, anew[i].Plan.Moves, s)
		assert.Equal(t, alone.Solves, anew[i].Plan.Solves, s)
	}
}
