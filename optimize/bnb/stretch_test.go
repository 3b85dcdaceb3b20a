package bnb

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/testdata/cases"
)

// leastUseAlong is the lowest use of a row of machines, worked out block by block over all points of each; where rows are
// curved, of what they may stand for.
func leastUseAlong(p *mip.Problem) float64 {
	g := newGrid(p)
	var points []mip.Steps // of each block: they are alike
	for a := g.lo[0]; a <= g.hi[0]; a++ {
		for b := g.lo[1]; b <= g.hi[1]; b++ {
			for c := g.lo[2]; c <= g.hi[2]; c++ {
				points = append(points, mip.Steps{a, b, c})
			}
		}
	}
	use := func(b int, s, then mip.Steps) (use float64) { // of the limits between block b and the next
		at := append(append(mip.Steps(nil), s...), then...)
		for i := range p.Limits[2*b : 2*b+2] {
			use = math.Max(use, leastOf(p, &p.Limits[2*b+i], func(v int) int { return at[v-3*b] }))
		}
		return use
	}
	before := make([]float64, len(points))
	for b := range p.Vars[len(p.Vars)-1].Block {
		now := make([]float64, len(points))
		for k, then := range points {
			now[k] = math.Inf(1)
			for i, s := range points {
				if before[i] < now[k] {
					now[k] = math.Min(now[k], math.Max(before[i], use(b, s, then)))
				}
			}
		}
		before = now
	}
	return slices.Min(before)
}

// Against all points of long rows: what a stretch says of the use is proven and never above the lowest there is, and the
// point that is found is hardly above; the same of curved rows. Below that use there is no point, which is proven too.
func TestStretchesBoundTheUse(t *testing.T) {
	ctx := context.Background()
	r := rand.New(rand.NewPCG(61, 7))
	near, held, none := 0, 0, 0
	for n := range cases.Draws(6, 40) {
		curved := n%2 == 1
		p := rowOfMachines(r, VeryLong+4, curved)
		want, name := leastUseAlong(p), fmt.Sprintf("problem %d", n)
		goal := mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}
		got := Find(ctx, straight(p), goal, Options{Gap: 0.001})
		require.NoError(t, certify.Check(straight(p), got.Claim, got.Proof), name)
		if got.Proof.Stretch == nil {
			continue
		}
		held++
		if !curved {
			require.LessOrEqual(t, got.Bound, want+1e-9, name)
			require.InDelta(t, Use(p, got.Steps), got.Value, 1e-9, name)
			require.GreaterOrEqual(t, got.Value, want-1e-9, name)
			if got.Bound > 0.95*want && got.Value < 1.05*want {
				near++
			}
		} else {
			firm := Firm(ctx, p, got, Options{Solves: 200})
			require.NoError(t, certify.Check(p, firm.Claim, firm.Proof), name)
			require.LessOrEqual(t, firm.Bound, want+1e-9, name)
			if firm.Bound > 0.7*want {
				near++
			}
		}
		below := Find(ctx, straight(p), mip.Goal{Use: 0.99 * got.Bound}, Options{})
		require.NoError(t, certify.Check(straight(p), below.Claim, below.Proof), name)
		assert.Equal(t, Impossible, below.Status, name)
		if firm := Firm(ctx, p, below, Options{Solves: 200}); below.Proof.Stretch != nil {
			none++
			require.NoError(t, certify.Check(p, firm.Claim, firm.Proof), name)
			if math.IsInf(firm.Bound, 1) {
				require.Greater(t, want, 0.99*got.Bound, name)
			}
		}
	}
	t.Logf("%d bounds, %d close; %d with no point below", held, near, none)
	assert.GreaterOrEqual(t, held, cases.Draws(4, 30))
	assert.GreaterOrEqual(t, near, held/2)
	assert.GreaterOrEqual(t, none, held/3)
}
