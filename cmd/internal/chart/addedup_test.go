package chart

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/train"
)

// Limits that are added up have a row of their own, that governs; a limit that a condition may use more of is as
// stated, times that.
func TestCouplingsHaveWhatIsAddedUp(t *testing.T) {
	tr := *plannedOf(t, "five-machines").Train
	tr.Couplings = append([]train.Coupling(nil), tr.Couplings...)
	tr.Conditions = append([]train.Condition(nil), tr.Conditions...)
	of := slices.IndexFunc(tr.Couplings, func(c train.Coupling) bool { return !c.Spacer && !c.GapLimited() })
	tr.Couplings[of].Limit.Combined = true
	tr.Conditions[1].Use = 0.25 // so that it governs
	p := &optimize.Plan{Result: optimize.Result{Train: &tr, Found: tr.Check(tr.Stay())}}
	s := &shares{Figures: view.FiguresOf(p)}
	s.words = namesOf(s.Figures)
	var sums int
	said := map[string]bool{}
	for _, r := range rowsOf(s.Figures) {
		said[s.limit(r)] = true
		if !r.Sum {
			continue
		}
		sums++
		assert.Equal(t, of, r.Coupling)
		added := make([]float64, 2)
		for k := range added {
			for _, u := range p.Found.Couplings[of][k].Uses { // neither spacer nor shaft ends: all of them
				added[k] += u.Share
			}
		}
		assert.InDelta(t, max(added[0], added[1]), r.last(), 1e-12)
	}
	require.Equal(t, 1, sums)
	assert.Contains(t, said, "added up 100 % × 0.25")
	assert.Contains(t, said, "offset 0.080 mm × 0.25")

	given, err := view.Replay(t.Context(), &tr, tr.Stay(), view.Options{})
	require.NoError(t, err)
	f := given.Figures()
	for _, l := range f.Limits {
		assert.Len(t, l.Uses, len(f.Times), "moves that were given have a before and an after, added up too")
	}
}
