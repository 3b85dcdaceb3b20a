package optimize_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
)

// Limits added up, holes in which feet slide, soft foot and shim steps of each machine, warm-up in between and growth
// of a condition's own, against the stored answers of CVXOPT and HiGHS: a train of each family and one whose linear
// forms are far off true geometry where they are not written near its plan, or all.
func TestStoredReferencesOfRules(t *testing.T) {
	t.Parallel()
	all := references(t, "../testdata/reference/rules.json")
	require.Len(t, all, 200)
	of := map[string]int{}
	for _, r := range all {
		require.True(t, r.Slides, "holes are looked at hot")
		of[r.Family]++
	}
	require.Len(t, of, len(families.RuleNames()))
	all = slices.DeleteFunc(all, func(r reference) bool {
		return !trains.Everything() && r.Seed > 701
	})
	seen := recheck.NewSpread()
	t.Run("trains", func(t *testing.T) {
		for _, r := range all {
			t.Run(r.name(), func(t *testing.T) {
				t.Parallel()
				r.check(t, seen)
			})
		}
	})
	seen.Log(t)
	assert.LessOrEqual(t, seen.Counts[between], 2)
	assert.LessOrEqual(t, seen.Counts[unbounded], 2)
}
