package bnb

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// Box after box, tangents bound the cost as the cone program does: never higher than its optimum, and lower by no more
// than tangents leave out; and where the one says that a box holds nothing the other does.
func TestTangentsBoundAsConesDo(t *testing.T) {
	optima, none, beyond := 0, 0, 0
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(20, seed))
		p := parallelLimits(3, 3, seed)
		if seed%2 == 1 {
			for j := range p.Vars {
				p.Vars[j].Slope = 0.4 * (r.Float64() - 0.5)
			}
		}
		if seed%4 == 2 {
			p.FixedCost = []float64{0.3, 0, 0.2}
		}
		l := newGrid(p)
		goal := mip.Goal{Use: 0.8}
		cones, linear := newRelaxer(l, goal, never), newRelaxer(l, goal, never)
		linear.linear = true
		for range 120 {
			lo, hi := append(mip.Steps(nil), l.lo...), append(mip.Steps(nil), l.hi...)
			for range r.IntN(6) {
				j := r.IntN(len(lo))
				at := lo[j] + r.IntN(hi[j]-lo[j]+1)
				if r.IntN(2) == 0 {
					lo[j] = at
				} else {
					hi[j] = at
				}
			}
			want, got := cones.solve(lo, hi, math.Inf(1)), linear.solve(lo, hi, math.Inf(1))
			require.NotNil(t, linear.tangents, "it went on from the box before")
			if math.IsInf(want.bound, 1) {
				none++
				assert.Equal(t, socp.Infeasible, got.status)
				assert.True(t, math.IsInf(got.bound, 1))
				continue
			}
			optima++
			require.Equal(t, socp.Optimal, got.status)
			size := 1 + math.Abs(want.bound)
			assert.InDelta(t, want.bound, got.bound, 1e-3*size)
			assert.Less(t, got.bound, want.bound+1e-5*size)

			cutoff := got.bound - 0.1
			cut := linear.solve(lo, hi, cutoff)
			if cut.status == socp.CutOff {
				beyond++
			}
			assert.GreaterOrEqual(t, cut.bound, cutoff)
		}
	}
	assert.Greater(t, optima, 100)
	assert.Greater(t, none, 100)
	assert.Greater(t, beyond, 50)
}

// Two solves of the same boxes in the same order give the same bounds to the bit.
func TestTangentsAreTheSameEachTime(t *testing.T) {
	p := parallelLimits(4, 3, 2)
	bounds := func() (out []float64) {
		l := newGrid(p)
		r := newRelaxer(l, mip.Goal{Use: 0.9}, never)
		r.linear = true
		rnd := rand.New(rand.NewPCG(20, 2))
		for range 60 {
			lo, hi := append(mip.Steps(nil), l.lo...), append(mip.Steps(nil), l.hi...)
			j := rnd.IntN(len(lo))
			lo[j] += rnd.IntN(hi[j] - lo[j] + 1)
			out = append(out, r.solve(lo, hi, math.Inf(1)).bound)
		}
		return out
	}
	assert.Equal(t, bounds(), bounds())
}
