package optimize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// By hand: 0.30 goes under two feet as 0.20 + 0.10, four pieces in. Under the third
// lie 3.00 + 0.50, of which 0.50 comes out: one piece. The pieces under the fourth are
// not stated: what comes out of it is not known, and there may be more.
func TestPiecesHandledByHand(t *testing.T) {
	tr := trains.Read(t, "alone", trains.Alone)
	tr.Shims.Stock, tr.Shims.MaxPieces = []float64{0.10, 0.20, 0.50, 1, 2, 3}, 6
	tr.Machines[1].Feet[2].Pieces, tr.Machines[1].Feet[2].Pack = []float64{3, 0.50}, 3.5
	try := func(up ...float64) *optimize.Plan {
		moves := tr.Stay()
		for f, u := range up {
			moves[1][f] = train.FootMove{Up: u}
		}
		return optimize.Try(tr, moves)
	}
	for _, c := range []struct {
		name   string
		up     []float64
		pieces int
		all    bool
	}{
		{"nothing", []float64{0, 0, 0, 0}, 0, true},
		{"two up", []float64{0.30, 0.30, 0, 0}, 4, true},
		{"a stated pack down", []float64{0, 0, -0.50, 0}, 1, true},
	} {
		pieces, all := try(c.up...).Handled()
		assert.Equal(t, c.pieces, pieces, c.name)
		assert.Equal(t, c.all, all, c.name)
	}
	tr.Shims.Stock, tr.Shims.MaxPieces = nil, 0
	pieces, all := try(0, 0, 0, -0.50).Handled()
	assert.Equal(t, 1, pieces, "one at least")
	assert.False(t, all, "of the fourth it is not known")
}
