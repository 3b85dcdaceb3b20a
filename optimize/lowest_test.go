package optimize_test

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
)

// The lowest worst share of the coupling limits in whole steps, by the linear equations, against HiGHS on 30 stored
// trains (testdata/reference/lowest.json): between its bound on polygons outside the discs and its point on those inside
// where it has proven that, hardly above any point that it has, and proven to a hundredth of a limit on nearly all.
func TestLowestShareAgainstHiGHS(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../testdata/reference/lowest.json")
	require.NoError(t, err)
	var stored []struct {
		Train  string
		Lowest struct{ Inner, Outer recheck.Answer }
	}
	require.NoError(t, json.Unmarshal(text, &stored))
	require.Len(t, stored, 30)
	every := trains.Draws(10, 1)
	asked, proven, same := 0, 0, 0
	for n, w := range stored {
		if n%every != 0 {
			continue
		}
		family, number, _ := strings.Cut(strings.TrimSuffix(w.Train, ".toml"), "-")
		seed, err := strconv.ParseUint(number, 10, 64)
		require.NoError(t, err)
		p := optimize.Problem(trains.DrawnHot(t, family, seed))
		r := bnb.Find(context.Background(), p, optimize.LowestUse(), bnb.Options{Gap: optimize.NearLowest, Solves: 2000})
		require.NoError(t, certify.Check(p, r.Claim, r.Proof), w.Train)
		inner, outer := w.Lowest.Inner, w.Lowest.Outer
		if r.Steps == nil {
			require.Equal(t, bnb.Impossible, r.Status, w.Train)
			assert.True(t, outer.Bound == nil || *outer.Bound > 1, "%s: not at all of the limits", w.Train)
			continue
		}
		asked++
		const tolerance = 1e-6 // HiGHS's
		require.NotNil(t, inner.Value, w.Train)
		assert.GreaterOrEqual(t, r.Value, *outer.Bound-tolerance, w.Train)
		assert.LessOrEqual(t, r.Bound, *inner.Value+tolerance, w.Train)
		assert.LessOrEqual(t, r.Value, *inner.Value+0.006, "%s: far above a point that HiGHS has", w.Train)
		if r.Value-r.Bound < 0.01 {
			proven++
		}
		if inner.Status == "optimal" {
			same++
			assert.LessOrEqual(t, math.Abs(r.Value / *inner.Value - 1), 0.006, w.Train)
		}
	}
	t.Logf("%d trains, %d proven to a hundredth of a limit, %d that HiGHS has proven too", asked, proven, same)
	assert.GreaterOrEqual(t, asked, 24/every)
	assert.GreaterOrEqual(t, proven, asked-1-1/every)
	assert.GreaterOrEqual(t, same, 8/every)
}
