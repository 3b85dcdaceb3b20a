package ways

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
)

// Ways for which there was no time are one plan for each strategy: a long train has thousands of ways, and a page
// works out its facts of each plan.
func TestWaysWithoutTimeShareAPlan(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	all, err := Compare(ctx, trains.Drawn(t, "long", 3), optimize.Options{}, nil)
	require.NoError(t, err)
	plans := map[*optimize.Plan]bool{}
	held := 0
	for _, w := range all[1:] {
		assert.Equal(t, optimize.Undecided, w.Plan.Status)
		assert.Equal(t, w.Strategy, w.Plan.Strategy)
		assert.Equal(t, "the search was interrupted", w.Plan.Cut)
		plans[w.Plan] = true
		if w.Kind == ByHolding {
			held++
		}
	}
	assert.Greater(t, held, 1)
	assert.Len(t, plans, len(optimize.Strategies())+1, "of strategies, and of what has none")
}
