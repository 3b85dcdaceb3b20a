package ways

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
)

// A wholeAnswer is HiGHS's, of testdata/referee/whole.py.
type wholeAnswer struct {
	Status string
	Value  *float64 // mm or machines
	Bound  *float64
}

type wholeBracket struct {
	Inner wholeAnswer // true plans reach its value
	Outer wholeAnswer // and none is below its bound
}

// The least largest move and the fewest machines in whole steps against HiGHS on 60
// stored trains: what is found is no worse than a plan that HiGHS has for limits less
// by a hundredth, no better than it proves for limits more by a hundredth, and what is
// proven here is above neither.
func TestStrategiesAgainstHiGHS(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../testdata/reference/whole.json")
	require.NoError(t, err)
	var stored []struct {
		Train          string
		Aim            float64
		Peak, Machines wholeBracket
	}
	require.NoError(t, json.Unmarshal(text, &stored))
	require.GreaterOrEqual(t, len(stored), 60)
	every := trains.Draws(20, 1) // all of them takes a while
	compared, settled := map[optimize.Strategy]int{}, map[optimize.Strategy]int{}
	for n, w := range stored {
		if n%every != 3%every {
			continue
		}
		tr := trains.Stored(t, w.Train)
		require.Equal(t, tr.Aim.Use, w.Aim)
		for _, c := range []struct {
			strategy optimize.Strategy
			said     wholeBracket
			grain    float64 // what HiGHS's tolerances come to
		}{{optimize.Minimax, w.Peak, 1e-4}, {optimize.FewestMachines, w.Machines, 1e-4}} {
			p, err := Make(context.Background(), tr, optimize.Options{Use: tr.Aim.Use, Strategy: c.strategy, Brief: true,
				Solves: 1500})
			require.NoError(t, err)
			if p.Status != optimize.Planned || !math.IsNaN(p.Lowest) || p.Cut != "" {
				// No plan at the aim: then HiGHS has none on the inner polygons either.
				assert.True(t, p.Cut != "" || c.said.Inner.Value == nil, "%s, %s: %s", w.Train, c.strategy, p.Status)
				continue
			}
			compared[c.strategy]++
			require.False(t, math.IsNaN(p.First))
			if v := c.said.Inner.Value; v != nil && c.said.Inner.Status == "optimal" {
				assert.LessOrEqual(t, p.First, *v+c.grain, "%s, %s", w.Train, c.strategy)
				assert.LessOrEqual(t, p.FirstBound, *v+c.grain, "%s, %s: proven", w.Train, c.strategy)
			}
			if b := c.said.Outer.Bound; b != nil && c.said.Outer.Status == "optimal" {
				assert.GreaterOrEqual(t, p.First, *b-c.grain, "%s, %s", w.Train, c.strategy)
				if v := c.said.Inner.Value; v != nil && *v-*b < c.grain {
					settled[c.strategy]++ // there is but one answer
					assert.InDelta(t, *v, p.First, c.grain)
				}
			}
		}
	}
	t.Logf("every %d of %d trains: compared %v, with but one answer %v", every, len(stored), compared, settled)
	for s, least := range map[optimize.Strategy]int{optimize.Minimax: 40, optimize.FewestMachines: 40} {
		assert.GreaterOrEqual(t, compared[s], least/every, s)
		assert.GreaterOrEqual(t, settled[s], least/every, s)
	}
}
