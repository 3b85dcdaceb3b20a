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
// of a condition's own, against the stored answers of CVXOPT and HiGHS: a train of each family, or all but the dear
// ones.
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
		return !trains.Everything() && r.Seed > 701 || trains.Everything() && dear(r.name())
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

// dear says whether a train is one of eight that are left out where all are gone through: they take 6 to over 60 s of
// processor time each, the other 192 two minutes together. Five of them agree. together-725 was not let end. Two are
// cut short too early by the work that tests allow: flats-702 (by the program's own work its plan is 18.06, the
// outside solvers' 17.88) and flats-749 (86.5 % of the limits, where there is a plan at 81.5 %).
func dear(name string) bool {
	return slices.Contains([]string{"flats-702", "flats-707", "flats-749", "warm-728", "together-716", "together-725",
		"together-731", "together-743"}, name)
}
