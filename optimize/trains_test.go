package optimize_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/infeasible"
	"leastmove/testdata/recheck"
	"leastmove/train"
)

// planned makes a plan and puts it through the checks of recheck_test.go.
func planned(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	opt.Brief = true
	return fully(t, tr, opt)
}

// fully is planned with relaxations where there is no plan, which
// take longer.
func fully(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	p := explained(t, tr, opt)
	recheck.Recheck(t, p)
	return p
}

// explained is a plan, with what is at odds where there is none.
func explained(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	m, err := optimize.Begin(context.Background(), tr, opt)
	require.NoError(t, err)
	switch {
	case m.Plan.Status == optimize.Impossible:
		infeasible.Explain(context.Background(), m)
	case m.Least.Steps != nil:
		require.NoError(t, m.Finish(context.Background(), m.Least, m.Proven(context.Background(), m.Least)))
	}
	if m.Plan.Status != optimize.Within {
		m.Plan.Cut = m.Cut(context.Background())
	}
	return m.Plan
}

// grain is a step in mm between the totals that the train's moves can have,
// where every machine is as hard to move: left and right feet go sideways
// together, by what a dial shows.
func grain(tr *train.Train) float64 { return 2 * tr.Units.Resolution() }
