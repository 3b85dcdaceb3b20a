package ways

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/train"
)

// planned makes a plan and puts it through the checks of package recheck.
func planned(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	opt.Brief = true
	return fully(t, tr, opt)
}

// fully is planned with all that is found out about the plan, which takes longer.
func fully(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	p, err := Make(context.Background(), tr, opt)
	require.NoError(t, err)
	recheck.Recheck(t, p)
	return p
}
