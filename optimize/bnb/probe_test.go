package bnb

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
)

// Against all points of rows of machines: asked use by use where there are points, what is proven is never above the
// lowest use and the point that is found never below it, and they meet where there is work enough.
func TestProbesBoundTheUse(t *testing.T) {
	ctx := context.Background()
	r := rand.New(rand.NewPCG(63, 1))
	met, short, drawn := 0, 0, trains.Draws(30, 200)
	for n := range drawn {
		p := rowOfMachines(r, 6, false)
		want := leastUseAlong(p)
		goal := mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}
		s := newTree(ctx, p, goal, Options{Gap: 0.001, Solves: 1000})
		still := s.at(make(mip.Steps, len(p.Vars)))
		if s.offer(&still); s.steps == nil {
			continue // they do not keep all of the limits as they are
		}
		s.solves = 1 + n%2*100 // little work, or enough
		s.probe(0)
		assert.GreaterOrEqual(t, s.best, want-1e-9, "problem %d", n)
		assert.LessOrEqual(t, s.probed.bound, want+1e-9, "problem %d", n)
		if s.probed.proof != nil {
			require.NoError(t, certify.Check(p, s.claim(s.probed.bound), s.probed.proof), "problem %d", n)
			assert.Error(t, certify.Check(p, s.claim(1.01*want), s.probed.proof), "problem %d", n)
		}
		if s.probed.bound >= s.target() {
			met++
		} else {
			short++
		}
		got := Find(ctx, p, goal, Options{Gap: 0.001, Solves: 400})
		require.NoError(t, certify.Check(p, got.Claim, got.Proof), "problem %d", n)
		assert.LessOrEqual(t, got.Bound, want+1e-9, "problem %d", n)
	}
	t.Logf("%d of %d drawn met, %d did not", met, drawn, short)
	assert.Greater(t, met, drawn/4)
	assert.Greater(t, short, 0)
}
