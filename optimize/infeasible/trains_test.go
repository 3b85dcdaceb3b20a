package infeasible

import (
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/train"
)

// explained is the plan of a train that has none, with what is at odds.
func explained(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	m, err := optimize.Begin(t.Context(), tr, opt)
	require.NoError(t, err)
	require.Equal(t, optimize.Impossible, m.Plan.Status)
	Explain(t.Context(), m)
	return m.Plan
}
