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

// rowOfMachines is a chain of blocks with two variables in coarse steps, of way 1, and one in fine steps, of way 2,
// each. Limits between blocks have a row of each way; one in each way is curved by what a block turns where that is
// asked for.
func rowOfMachines(r *rand.Rand, blocks int, curved bool) *mip.Problem {
	p := &mip.Problem{}
	for b := range blocks {
		for j := range 3 {
			v := mip.Var{Block: b, Way: 1, Weight: 1, Step: 1, Lo: -2, Hi: 1}
			if j == 2 {
				v.Way, v.Step, v.Lo, v.Hi = 2, 0.1, -0.1, 0.1
			}
			p.Vars = append(p.Vars, v)
		}
		if curved {
			terms := []mip.Term{{Var: 3 * b, Coefficient: 1}, {Var: 3*b + 1, Coefficient: -1}}
			p.Turns = append(p.Turns, mip.Row{Terms: terms})
			p.TurnMost = append(p.TurnMost, 100)
		}
	}
	for b := range blocks - 1 {
		for range 2 {
			rows := []mip.Row{{Constant: 6*r.Float64() - 3}, {Constant: 0.4*r.Float64() - 0.2}}
			l := mip.Limit{Radius: 5, Shared: true, Rows: rows}
			for j := range 6 {
				row := &l.Rows[0]
				if j%3 == 2 {
					row = &l.Rows[1]
				}
				row.Terms = append(row.Terms, mip.Term{Var: 3*b + j, Coefficient: 2*r.Float64() - 1})
			}
			if curved {
				by := 0.02 * r.Float64()
				l.Rows[0].Off = []mip.Curve{{Sum: []mip.Bend{{A: b, B: b, By: by, Mean: by * (0.9 + 0.1*r.Float64())}}}}
			}
			p.Limits = append(p.Limits, l)
		}
	}
	return p
}

// leastOf is what a point, in steps of each variable, uses of a limit of a row of machines at least: curved rows may
// stand for anything about the mean of what bends them.
func leastOf(p *mip.Problem, l *mip.Limit, steps func(v int) int) float64 {
	var square float64
	for _, r := range l.Rows {
		v, off := r.Constant, 0.0
		for _, term := range r.Terms {
			v += term.Coefficient * p.Vars[term.Var].Step * float64(steps(term.Var))
		}
		for _, c := range r.Off {
			b := &c.Sum[0]
			turn := float64(steps(3*b.A) - steps(3*b.A+1))
			v += b.Mean * turn * turn
			off += (b.By - math.Abs(b.Mean)) * turn * turn
		}
		v = math.Max(0, math.Abs(v)-off)
		square += v * v
	}
	return math.Sqrt(square) / l.Radius
}

// leastUse is the lowest use over every point of the box; where rows are curved, of what they may stand for.
func leastUse(p *mip.Problem) float64 {
	g, best := newGrid(p), math.Inf(1)
	var try func(s mip.Steps, j int)
	try = func(s mip.Steps, j int) {
		if j < len(s) {
			for s[j] = g.lo[j]; s[j] <= g.hi[j]; s[j]++ {
				try(s, j+1)
			}
			return
		}
		use := 0.0
		for i := range p.Limits {
			use = math.Max(use, leastOf(p, &p.Limits[i], func(v int) int { return s[v] }))
		}
		best = math.Min(best, use)
	}
	try(make(mip.Steps, len(p.Vars)), 0)
	return best
}

// Against all points: what a walk says of the use is proven and never above the lowest there is, and the point that it
// leads to is hardly above; the same with curved rows, which know what bends them.
func TestWalksBoundTheUse(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 3))
	near, held := 0, 0
	for n := range cases.Draws(6, 40) {
		curved := n%2 == 1
		p := rowOfMachines(r, 3, curved)
		want, name := leastUse(p), fmt.Sprintf("problem %d", n)
		goal := mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}
		tree := newTree(context.Background(), straight(p), goal, Options{Gap: 0.001, Solves: 1000})
		tree.best = 1
		w := tree.walk(0, tree.grid.from, tree.grid.to)
		if w.way == 0 {
			continue
		}
		claim := tree.claim(w.bound)
		require.NoError(t, certify.Check(straight(p), claim, &certify.Proof{Way: w.way}), name)
		if !curved {
			held++
			require.LessOrEqual(t, w.bound, want+1e-9, name)
			require.GreaterOrEqual(t, tree.best, want-1e-9, name)
			if tree.best < want*1.05 {
				near++
			}
			continue
		}
		found := Result{Goal: goal, Steps: tree.steps, Value: tree.best, Bound: w.bound, Claim: claim,
			Proof: &certify.Proof{Way: w.way}}
		firm := Firm(context.Background(), p, found, Options{Solves: 200})
		require.LessOrEqual(t, firm.Bound, want+1e-9, name)
		require.NoError(t, certify.Check(p, firm.Claim, firm.Proof), name)
		if held++; firm.Bound > 0.7*want {
			near++
		}
		// Caps on turns are of the walk's own proof: what follows a walk that does not suffice knows of none.
		own := *p
		own.TurnMost = slices.Clone(p.TurnMost)
		after := treeOf(context.Background(), &own, nil, goal, Options{Solves: 200})
		after.firm, after.best, after.beside = true, found.Bound, true
		after.firmWalk(&found)
		require.Equal(t, p.TurnMost, after.TurnMost, name)
	}
	t.Logf("%d walks, %d close", held, near)
	assert.GreaterOrEqual(t, held, cases.Draws(4, 30))
	assert.GreaterOrEqual(t, near, held/2)
}

// A search of the lowest use has the bound of a walk where boxes hardly have one, and its proof.
func TestLowestUseIsWalked(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 4))
	walked := 0
	for n := range cases.Draws(4, 20) {
		p := rowOfMachines(r, 6, false)
		for j := range p.Vars {
			if p.Vars[j].Way == 1 {
				p.Vars[j].Lo, p.Vars[j].Hi = -30, 30
			}
		}
		goal := mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}
		got := Find(context.Background(), p, goal, Options{Gap: 0.005, Solves: probeAfter})
		require.NoError(t, certify.Check(p, got.Claim, got.Proof), "problem %d", n)
		if got.Proof.Way > 0 {
			walked++
			assert.Greater(t, got.Bound, 0.5*got.Value, "problem %d", n)
		}
	}
	assert.GreaterOrEqual(t, walked, cases.Draws(2, 10))
}

// Where a walk leaves no point at a use, a search of the cost there ends with that, proven; of curved rows too, as far
// as they may stand for no less. At a use that some point keeps it says nothing of the kind.
func TestASearchOfTheCostIsWalkedOut(t *testing.T) {
	ctx := context.Background()
	r := rand.New(rand.NewPCG(61, 8))
	out, firmed := 0, 0
	for n := range cases.Draws(8, 60) {
		curved := n%2 == 1
		p := rowOfMachines(r, 7, curved)
		want, name := leastUseAlong(p), fmt.Sprintf("problem %d", n)
		for _, share := range []float64{0.3, 0.6, 0.95, 1.01} {
			goal := mip.Goal{Use: share * want}
			s := newTree(ctx, straight(p), goal, Options{})
			way := s.walkedOut()
			if way == 0 {
				continue
			}
			r := Result{Status: Impossible, Value: math.NaN(), Bound: math.Inf(1), Goal: goal, Claim: s.claim(math.Inf(1)),
				Proof: &certify.Proof{Way: way}}
			require.NoError(t, certify.Check(straight(p), r.Claim, r.Proof), name)
			if out++; !curved {
				require.Less(t, share, 1.0, name)
				continue
			}
			firm := Firm(ctx, p, r, Options{Solves: 200})
			require.NoError(t, certify.Check(p, firm.Claim, firm.Proof), name)
			if firm.Proof.Turns != nil && firm.Status == Impossible {
				firmed++
				require.Less(t, share, 1.0, name)
			}
		}
		got := Find(ctx, straight(p), mip.Goal{Use: 0.9 * want}, Options{})
		require.NoError(t, certify.Check(straight(p), got.Claim, got.Proof), name)
		if !curved {
			assert.Equal(t, Impossible, got.Status, name)
		}
	}
	t.Logf("%d walked out, %d of curved rows", out, firmed)
	assert.GreaterOrEqual(t, out, cases.Draws(6, 50))
	assert.GreaterOrEqual(t, firmed, cases.Draws(1, 2))
}
