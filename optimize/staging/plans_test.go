package staging

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/train"
)

// planned makes a plan without what stands around it.
func planned(t *testing.T, tr *train.Train, opt optimize.Options) *optimize.Plan {
	t.Helper()
	opt.Brief = true
	p, err := optimize.Make(context.Background(), tr, opt)
	require.NoError(t, err)
	return p
}
