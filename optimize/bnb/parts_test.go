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
	"leastmove/testdata/trains"
)

// Where variables cost more one way than the other, and may earn, the search finds what trying every point finds,
// with a proof.
func TestFindWithSlopesAgainstTryingEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 7))
	solved, earned, drawn := 0, 0, trains.Draws(60, 200)
	for n := range drawn {
		p := draw(r)
		for j := range p.Vars {
			p.Vars[j].Slope = 6 * (r.Float64() - 0.5)
		}
		goal := mip.Goal{Use: 0.8}
		want := enumerate(p, goal)
		got := Find(context.Background(), p, goal, Options{Gap: 1e-9, Near: 1e-5}) // bounds have no grain
		name := fmt.Sprintf("problem %d", n)
		require.NoError(t, certify.Check(p, got.Claim, got.Proof), name)
		if math.IsInf(want, 1) {
			assert.Equal(t, Impossible, got.Status, name)
			continue
		}
		solved++
		if want < 0 {
			earned++
		}
		solved++
		require.Equal(t, Least, got.Status, name)
		assert.InDelta(t, want, got.Value, 2e-5, name)
		assert.InDelta(t, got.Value, Cost(p, got.Steps), 1e-9, name)
		if certify.Keeps(p, got.Steps, goal.Use, 0) == nil { // not by rounding alone
			dearer := got.Claim
			dearer.Cost = want + 1e-3
			assert.Error(t, certify.Check(p, dearer, got.Proof), name)
		}
	}
	assert.Greater(t, solved, drawn/2)
	assert.Greater(t, earned, drawn/7)
}

// bent is a drawn problem whose rows may be off what they stand for by what blocks turn.
func bent(r *rand.Rand) *mip.Problem {
	p := draw(r)
	p.Turns, p.TurnMost = []mip.Row{}, nil
	for j, v := range p.Vars {
		p.Turns = append(p.Turns, mip.Row{Terms: []mip.Term{{Var: j, Coefficient: 1}}})
		p.TurnMost = append(p.TurnMost, math.Max(-v.Lo, v.Hi))
	}
	for i := range p.Limits {
		for k := range p.Limits[i].Rows {
			row := &p.Limits[i].Rows[k]
			if len(row.Terms) == 0 || r.IntN(2) == 0 {
				continue
			}
			a, b := row.Terms[0].Var, row.Terms[len(row.Terms)-1].Var
			row.Off = []mip.Curve{{Fixed: 0.002 * r.Float64(), Sum: []mip.Bend{{A: a, B: b, By: 0.1 * r.Float64()}}}}
		}
	}
	return p
}

// leastBent is the least cost over every point of the box at which the limits hold, each as loose as it is at the
// point.
func leastBent(p *mip.Problem, use float64) float64 {
	g, best := newGrid(p), math.Inf(1)
	loose := p.Loose(g.lo, g.hi)
	far := func(s mip.Steps) bool { // however loose the limits are
		at := g.at(s)
		for i, l := range p.Limits {
			if g.share(i, at.rows)*l.Radius > l.Radius+loose[i] {
				return true
			}
		}
		return false
	}
	var try func(s mip.Steps, j int)
	try = func(s mip.Steps, j int) {
		if j == len(s) {
			if cost := g.cost(s); cost < best && !far(s) && certify.Keeps(p, s, use, 0) == nil {
				best = cost
			}
			return
		}
		for s[j] = g.lo[j]; s[j] <= g.hi[j]; s[j]++ {
			if !p.Vars[j].Bars(s[j]) {
				try(s, j+1)
			}
		}
	}
	try(make(mip.Steps, len(p.Vars)), 0)
	return best
}

// Cut after its first block, or after each, a chain's bound holds for every point that keeps what its rows stand for;
// it is often above that without whole steps, and its proof shows nothing that is false.
func TestBoundsByPartsAgainstTryingEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 3))
	held, above := 0, 0
	drawn := trains.Draws(60, 300)
	for n := range drawn {
		p := bent(r)
		want := leastBent(p, 0.8)
		if math.IsInf(want, 1) || want == 0 {
			continue
		}
		goal := mip.Goal{Use: 0.8}
		found := Find(context.Background(), straight(p), goal, Options{Gap: 1e-9})
		if found.Steps == nil {
			continue
		}
		tree := treeOf(context.Background(), p, nil, goal, Options{Solves: 100})
		whole := tree.paid(tree.lo, tree.hi)
		if whole.certificate == nil {
			continue
		}
		ends := []int{1, len(tree.first) - 1}
		if n%2 == 0 && ends[1] == 3 {
			ends = []int{1, 2, 3}
		}
		got := tree.cutAt(whole.certificate, ends, found.Steps)
		if got.proof == nil {
			continue
		}
		held++
		name := fmt.Sprintf("problem %d", n)
		assert.LessOrEqual(t, got.bound, want+1e-9, name)
		c := certify.Claim{Lo: tree.from, Hi: tree.to, Use: 0.8, Cost: got.bound}
		require.NoError(t, certify.Check(p, c, got.proof), name)
		c.Cost = want + 1e-6
		assert.Error(t, certify.Check(p, c, got.proof), name)
		if got.bound > whole.bound+1e-6 {
			above++
		}
	}
	assert.Greater(t, held, drawn/5)
	assert.Greater(t, above, drawn/10)
}

// A long chain is cut where it is pulled at least, in parts that are neither short nor long.
func TestCutsByHand(t *testing.T) {
	p := &mip.Problem{}
	c := &certify.DualCertificate{}
	for b := range 18 {
		p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 1, Lo: -1, Hi: 1})
		if b == 0 {
			continue
		}
		p.Limits = append(p.Limits, mip.Limit{Radius: 1, Rows: []mip.Row{{Terms: []mip.Term{{Var: b - 1, Coefficient: 1},
			{Var: b, Coefficient: -1}}}}})
		pull := 1.0
		if b == 2 || b == 5 || b == 11 {
			pull = 0.1
		}
		c.Pull = append(c.Pull, pull)
	}
	tree := treeOf(context.Background(), p, nil, mip.Goal{Use: 1}, Options{})
	ends := tree.cuts(c)
	assert.Equal(t, []int{5, 11, 18}, ends, "2 blocks are too short a part")
	pull := tree.pulls(c, ends)
	for b, u := range pull {
		assert.Equal(t, b+1 == 5 || b+1 == 11, u != 0, "limit %d", b)
	}
}

// Of chains of 40 links the least is known by working it out link by link. The bound by parts is never above it, and
// closer than the bound without whole steps.
func TestVeryLongChainsByParts(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 5))
	goal, byParts, straightly := mip.Goal{Use: 1}, 0.0, 0.0
	for n := range 60 {
		p := links(r, 40, 6)
		want := along(p, 6)
		if math.IsInf(want, 1) {
			continue
		}
		found := Find(context.Background(), p, goal, Options{Solves: 200})
		require.NotNil(t, found.Steps, "chain %d", n)
		curved := *p
		curved.Turns = []mip.Row{}
		firm := Firm(context.Background(), &curved, found, Options{Solves: 100})
		assert.LessOrEqual(t, firm.Bound, want+1e-9, "chain %d", n)
		require.NoError(t, certify.Check(&curved, firm.Claim, firm.Proof), "chain %d", n)
		byParts += firm.Bound / want
		straightly += Relax(context.Background(), p, goal).Bound / want
	}
	assert.Greater(t, byParts, 1.3*straightly)
}
