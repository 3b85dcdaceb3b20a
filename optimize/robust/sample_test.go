package robust

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/testdata/trains"
)

// What a sample counts is what comes of looking at every limit in every draw, to the last one: by coupling and reach it
// only leaves out what can't fail. Trains as found and moved, limits of planes on their own and together.
func TestSampleCountsAsEveryLimitDoes(t *testing.T) {
	var s Sample
	between := 0
	for n := range trains.Draws(3, 12) {
		for _, family := range []string{"two", "three", "gear", "spacer", "gap", "inch", "together", "nozzle"} {
			tr := trains.Stated(trains.Drawn(t, family, uint64(1+n)))
			tr.Errors.Offset, tr.Errors.Angle, tr.Errors.Placing = 0.02, 0.04, 0.02
			p := stay(tr)
			p.Moves[n%len(p.Moves)][0].Up = 0.1
			p.Planned = tr.Check(p.Moves)
			for c := range p.Planned.Couplings { // by hand near the limits, where draws fall on both sides
				for k := range p.Planned.Couplings[c] {
					uses := p.Planned.Couplings[c][k].Uses
					for u := range uses {
						uses[u].V, uses[u].H = 0.3*float64(1+n%3)*uses[u].Limit, -0.1*float64(k)*uses[u].Limit
					}
				}
			}
			e := newErrorModel(p)
			const draws = 2000
			r, z, want := rand.New(rand.NewPCG(chanceSeed, 0)), make([]float64, len(e.of)), 0
			for range draws {
				draw(r, z)
				kept := true
				for test := range e.tests {
					kept = kept && e.tests[test].keeps(e.at(test, z))
				}
				if kept {
					want++
				}
			}
			name := fmt.Sprint(family, n)
			assert.Equal(t, float64(want)/draws, s.ShareWithin(context.Background(), p, draws), name)
			assert.Equal(t, float64(want)/draws, e.within(context.Background(), draws, chanceSeed), name)
			if want > 0 && want < draws {
				between++
			}
		}
	}
	assert.Greater(t, between, trains.Draws(12, 60), "shares that are neither all nor none")
}
