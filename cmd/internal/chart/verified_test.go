package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// notMade is what became of a plan of which nothing was made, but that what was
// found is said to have pose a tenth of a millimetre higher before.
func notMade(t *testing.T) (*optimize.Plan, *view.Verified) {
	p := plannedOf(t, "five-machines")
	r := &view.Verified{Train: p.Train, Moves: p.Moves, Remaining: view.Of(p)}
	pose := func(s train.Reading) diagnose.Pose {
		return diagnose.Pose{Misalignment: s.Misalignment, Gap: s.Gap}
	}
	for i := range p.Found.Couplings {
		var c view.VerifiedCoupling
		for k := range p.Found.Couplings[i] {
			before := pose(p.Found.Couplings[i][k])
			before.V.Offset += 0.1
			c.Conditions = append(c.Conditions, view.VerifiedState{Before: before, Planned: pose(p.Planned.Couplings[i][k]),
				Now:       p.Found.Couplings[i][k],
				UseBefore: math.NaN(), UsePlanned: 0.861})
		}
		r.Couplings = append(r.Couplings, c)
	}
	return p, r
}

// Before, planned and after stand in one row each, where their shares of limit say.
func TestVerifiedCouplingsReadBack(t *testing.T) {
	_, r := notMade(t)
	f := r.Figures()
	figures := Couplings(f)
	require.Len(t, figures, 1)
	d := readBack(t, figures[0])
	at := d.log(t, "100", "500")
	for _, words := range []string{"before %", "planned %", "after %"} {
		d.has(t, words)
	}
	rows := rowsOf(f)
	require.NotEmpty(t, rows)
	crosses := d.lines(1.1, "")
	require.Len(t, crosses, 2*len(rows)+2, "and one in the legend")
	for n, row := range rows {
		require.Len(t, row.Uses, 3)
		ends := crosses[2*n].points
		assert.InDelta(t, at(row.Uses[1].Share), (ends[0][0]+ends[1][0])/2, 0.05)
	}
}

// What the plan says nothing of is not drawn.
func TestVerifiedTrainBefore(t *testing.T) {
	_, r := notMade(t)
	require.Len(t, VerifiedTrain(r.Figures()), 2, "from the side and from above")
	r.Couplings[1].Conditions[0].Before.V.Offset = math.NaN()
	assert.Nil(t, VerifiedTrain(r.Figures()))
}
