package robust

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
	p, err := optimize.Make(context.Background(), tr, opt)
	require.NoError(t, err)
	recheck.Recheck(t, p)
	return p
}
