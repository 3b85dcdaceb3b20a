package bnb

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// leastBentUse is the lowest use over every point of the box, each limit as loose as it is at the point.
func leastBentUse(p *mip.Problem) float64 {
	g, best := newGrid(p), math.Inf(1)
	var try func(s mip.Steps, j int)
	try = func(s mip.Steps, j int) {
		if j < len(s) {
			for s[j] = g.lo[j]; s[j] <= g.hi[j]; s[j]++ {
				if !p.Vars[j].Bars(s[j]) {
					try(s, j+1)
				}
			}
			return
		}
		at, loose, use := g.at(s), p.Loose(s, s), 0.0
		for i, l := range p.Limits {
			share := g.share(i, at.rows) - loose[i]/l.Radius
			if l.Shared {
				use = math.Max(use, share)
			} else if share > 1 {
				return
			}
		}
		best = math.Min(best, use)
	}
	try(make(mip.Steps, len(p.Vars)), 0)
	return best
}

// The bound on the use is proven, and never above the lowest there is.
func TestLowestUseWhereTurnsAreCapped(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 3))
	held := 0
	for n := range 60 {
		p := bent(r)
		want := leastBentUse(p)
		found := Find(context.Background(), straight(p), anyUse, Options{Gap: 0.01})
		if found.Steps == nil || found.Bound < fineUse || want > 1 {
			continue
		}
		held++
		name := fmt.Sprintf("problem %d", n)
		firm := Firm(context.Background(), p, found, Options{Solves: 200})
		assert.LessOrEqual(t, firm.Bound, want+1e-9, name)
		require.NoError(t, certify.Check(p, firm.Claim, firm.Proof), name)
	}
	assert.Greater(t, held, 15)
}

var anyUse = mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}

// By hand: two variables that come to 4 and are the same, each within half of 1, stand from 1.5 to 2.5, so that what
// turns by their sum turns by 4.5 at most. Single limits let each of them go from -1.5 to 5, and the sum to 10. What
// was
// capped is proven: only the box is left open.
func TestATurnIsCappedByAllLimits(t *testing.T) {
	p := &mip.Problem{Turns: []mip.Row{{Terms: []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: 1}}}},
		TurnMost: []float64{100}}
	off := []mip.Curve{{Sum: []mip.Bend{{A: 0, B: 0, By: 1e-4}}}}
	for b := range 2 {
		p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 0.05, Lo: -5, Hi: 5})
		sign := float64(1 - 2*b)
		p.Limits = append(p.Limits, mip.Limit{Radius: 1, Shared: true, Rows: []mip.Row{{Constant: -2 - 2*sign, Off: off,
			Terms: []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: sign}}}}})
	}
	tree := treeOf(context.Background(), p, nil, anyUse, Options{Solves: 200})
	tree.best = 0.5
	lo, hi := append(mip.Steps(nil), tree.lo...), append(mip.Steps(nil), tree.hi...)
	require.True(t, tree.Narrow(lo, hi, tree.best, slack))
	assert.InDelta(t, 8, tree.Turned(lo, hi)[0], 3)
	c, none := tree.spinner().most(tree, 0, lo, hi)
	require.Nil(t, none)
	assert.InDelta(t, 4.5, c.Most, 0.02)
	then := &certify.Proof{Turns: &certify.Turns{Caps: []certify.TurnCap{c}}}
	assert.ErrorContains(t, certify.Check(p, tree.claim(tree.best), then), "a box is left open")
	c.Most *= 0.99
	then.Turns.Caps[0] = c
	assert.ErrorContains(t, certify.Check(p, tree.claim(tree.best), then), "turn 0 is capped at 4.4")
}

// A node of a proof narrows its box once. Here single limits leave nothing of the box at a use of 0.495, but only after
// more passes than one narrowing has: by hand, x ≥ 0.9 y + 5 - 4 × 0.495 and the same of y take the least of both from
// 27.5 to 30.2 in the end, nine tenths of the way each time, where both may come to 60.
func TestABoxIsNarrowedOnceANode(t *testing.T) {
	p := &mip.Problem{Turns: []mip.Row{}}
	for b := range 2 {
		p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 0.01, Lo: 27.5, Hi: 200})
		p.Limits = append(p.Limits, mip.Limit{Radius: 4, Shared: true, Rows: []mip.Row{{Constant: -5,
			Terms: []mip.Term{{Var: b, Coefficient: 1}, {Var: 1 - b, Coefficient: -0.9}}}}})
	}
	p.Limits = append(p.Limits, mip.Limit{Radius: 30, Rows: []mip.Row{{Constant: -30,
		Terms: []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: 1}}}}})
	found := Find(context.Background(), straight(p), anyUse, Options{Gap: 0.001})
	assert.InDelta(t, 0.5, found.Bound, 0.001)
	firm := Firm(context.Background(), p, found, Options{Solves: 200})
	assert.InDelta(t, 0.495, firm.Bound, 0.001)
	require.NoError(t, certify.Check(p, firm.Claim, firm.Proof))
}
