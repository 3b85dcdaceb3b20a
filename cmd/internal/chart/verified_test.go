package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	standing "leastmove/optimize/diagnose"
	"leastmove/train"
)

// notMade is what became of a plan of which nothing was made, but that what was
// found is said to have stood a tenth of a millimetre higher before.
func notMade(t *testing.T) (*optimize.Plan, *view.Verified) {
	p := plannedOf(t, "five-machine-string")
	r := &view.Verified{Train: p.Train, Moves: p.Moves, Remaining: view.Of(p)}
	stood := func(s train.Reading) standing.Standing {
		return standing.Standing{Misalignment: s.Misalignment, Gap: s.Gap}
	}
	for i := range p.Found.Couplings {
		var c view.VerifiedCoupling
		for k := range p.Found.Couplings[i] {
			before := stood(p.Found.Couplings[i][k])
			before.V.Offset += 0.1
			c.Conditions = append(c.Conditions, view.VerifiedState{Before: before, Planned: stood(p.Planned.Couplings[i][k]),
				Now:       p.Found.Couplings[i][k],
				UseBefore: math.NaN(), UsePlanned: 0.861})
		}
		r.Couplings = append(r.Couplings, c)
	}
	return p, r
}

// The crosses in the panels are where the couplings were to be.
func TestVerifiedCouplingsReadBack(t *testing.T) {
	p, r := notMade(t)
	figures := Couplings(r.Figures())
	require.Len(t, figures, 1)
	d := readBack(t, figures[0])
	var limits, crosses []stroke
	for _, s := range d.strokes {
		switch {
		case s.radius > 0 && s.dashes == "1,2":
			limits = append(limits, s)
		case s.width == 0.9 && s.dashes == "" && s.radius == 0:
			crosses = append(crosses, s)
		}
	}
	n := 0
	for i := range p.Planned.Couplings {
		for k := range p.Planned.Couplings[i] {
			for _, u := range p.Planned.Couplings[i][k].Uses {
				require.Less(t, 2*n+1, len(crosses))
				a, b := crosses[2*n].points, crosses[2*n+1].points
				middle := limits[n].points[0]
				for _, ends := range [][][2]float64{a, b} {
					at := [2]float64{(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2}
					assert.InDelta(t, -u.H/u.Limit, (at[0]-middle[0])/limits[n].radius, 0.001)
					assert.InDelta(t, u.V/u.Limit, (at[1]-middle[1])/limits[n].radius, 0.001)
				}
				n++
			}
		}
	}
	require.Positive(t, n)
	assert.Len(t, crosses, 2*n+2, "and one in the legend")
}

// What the plan says nothing of is not drawn.
func TestVerifiedTrainBefore(t *testing.T) {
	_, r := notMade(t)
	require.Len(t, VerifiedTrain(r.Figures()), 2, "from the side and from above")
	r.Couplings[1].Conditions[0].Before.V.Offset = math.NaN()
	assert.Nil(t, VerifiedTrain(r.Figures()))
}
