package optimize_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
)

// More work is never a worse plan. In flats-702 whole steps leave so few plans that bounds alone meet none in 17,000
// programs: what there is comes by way of the lowest worst share, whose plans move far.
func TestMoreWorkIsNoWorsePlan(t *testing.T) {
	t.Parallel()
	type drawn struct {
		family string
		seed   uint64
	}
	of, series := []drawn{{"flats", 702}}, []int{60, 150}
	if trains.Everything() {
		of = append(of, drawn{"together", 716})
		series = []int{200, 600, 1200}
	}
	for n, d := range of {
		before, works := math.Inf(1), series
		if n > 0 {
			works = series[:2] // each takes seconds
		}
		for _, work := range works {
			p := planned(t, trains.DrawnHot(t, d.family, d.seed), optimize.Options{Solves: work})
			require.Equal(t, optimize.Planned, p.Status)
			require.Truef(t, math.IsNaN(p.Lowest), "%s-%d: the aim is kept", d.family, d.seed)
			assert.LessOrEqualf(t, p.Total, before+1e-9, "%s-%d, %d programs", d.family, d.seed, work)
			before = p.Total
		}
	}
}
