package optimize

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// planned makes a plan and puts it through the checks of recheck_test.go.
func planned(t *testing.T, tr *train.Train, opt Options) *Plan {
	t.Helper()
	opt.Brief = true
	return fully(t, tr, opt)
}

// fully is planned with prices, and with relaxations where there is no plan, which
// take longer.
func fully(t *testing.T, tr *train.Train, opt Options) *Plan {
	t.Helper()
	p, err := Make(context.Background(), tr, opt)
	require.NoError(t, err)
	recheck(t, p)
	return p
}

// grain is a step in mm between the totals that the train's moves can have,
// where every machine is as hard to move: left and right feet go sideways
// together, by what a dial shows.
func grain(tr *train.Train) float64 { return 2 * Resolution(tr.Units) }
