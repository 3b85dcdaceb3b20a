package bnb

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
)

// links is a chain of one variable to a block, each tied to the next by how far
// they may differ.
func links(r *rand.Rand, n, most int) *mip.Problem {
	p := &mip.Problem{}
	for j := range n {
		p.Vars = append(p.Vars, mip.Var{Block: j, Weight: float64(1 + r.IntN(3)), Step: 1, Lo: float64(-most),
			Hi: float64(most)})
		if j > 0 {
			row := mip.Row{Terms: []mip.Term{{Var: j - 1, Coefficient: -1}, {Var: j, Coefficient: 1.5}},
				Constant: 8*r.Float64() - 4}
			p.Limits = append(p.Limits, mip.Limit{Rows: []mip.Row{row}, Radius: 0.4 + r.Float64(), Shared: true})
		}
	}
	return p
}

// along is the least cost of links, worked out link by link over all steps of
// each.
func along(p *mip.Problem, most int) float64 {
	var before []float64
	for j, v := range p.Vars {
		now := make([]float64, 2*most+1)
		for k := range now {
			x := float64(k - most)
			from := 0.0
			if j > 0 {
				from = math.Inf(1)
				lim := p.Limits[j-1]
				for i, cost := range before {
					if math.Abs(lim.Rows[0].Constant-float64(i-most)+1.5*x) <= lim.Radius {
						from = math.Min(from, cost)
					}
				}
			}
			now[k] = from + v.Weight*math.Abs(x)
		}
		before = now
	}
	return slices.Min(before)
}

// A long chain, laid and searched by a rolling horizon, comes to the least cost that
// there is, with its proof, and more work never to a greater one.
func TestLongChains(t *testing.T) {
	const most = 9
	r := rand.New(rand.NewPCG(20, 5))
	found := 0
	for n := range 60 {
		p := links(r, 9+n%6, most)
		want := along(p, most)
		goal := mip.Goal{Use: 1}
		got := Find(context.Background(), p, goal, Options{})
		require.NoError(t, certify.Check(p, got.Claim, got.Proof), "problem %d", n)
		if math.IsInf(want, 1) {
			assert.Equal(t, Impossible, got.Status, "problem %d", n)
			continue
		}
		found++
		require.Equal(t, Least, got.Status, "problem %d", n)
		assert.InDelta(t, want, got.Value, 1e-9, "problem %d", n)
		little := Find(context.Background(), p, goal, Options{Solves: 1})
		require.NotNil(t, little.Steps, "problem %d: the first plan comes whatever the work", n)
		assert.GreaterOrEqual(t, little.Value, got.Value, "problem %d", n)
		assert.LessOrEqual(t, little.Bound, want+1e-9, "problem %d", n)
	}
	assert.Greater(t, found, 20)
	assert.Less(t, found, 60)
}

// A plan far above the bound does not keep a long chain from being laid, and so is no worse than none.
func TestAPoorStart(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 6))
	tried := 0
	for n := range 60 {
		p := links(r, 12, 1000)
		far := make(mip.Steps, len(p.Vars)) // from its end backwards
		far[len(far)-1] = 5
		for j := len(far) - 1; j > 0; j-- {
			far[j-1] = int(math.Round(p.Limits[j-1].Rows[0].Constant + 1.5*float64(far[j])))
		}
		little := Find(context.Background(), p, mip.Goal{Use: 1}, Options{Solves: 1})
		if little.Steps == nil || !keeps(p, far) {
			continue
		}
		tried++
		from := Find(context.Background(), p, mip.Goal{Use: 1}, Options{Solves: 1, Start: []mip.Steps{far}})
		assert.LessOrEqual(t, from.Value, little.Value+1e-9, "problem %d", n)
	}
	assert.Greater(t, tried, 10)
}

// keeps says whether steps of links keep its limits.
func keeps(p *mip.Problem, s mip.Steps) bool {
	for j, l := range p.Limits {
		if math.Abs(l.Rows[0].Constant-float64(s[j])+1.5*float64(s[j+1])) > l.Radius {
			return false
		}
	}
	return true
}

// A very long chain whose windows are given programs of their own rests once they have nothing better: it ends with
// fewer programs, a plan hardly worse and a proven bound; a shorter one goes on.
func TestVeryLongChainsRest(t *testing.T) {
	const most, windows, worse = 9, 2000, 0.02
	r := rand.New(rand.NewPCG(20, 6))
	rested := 0
	for n := range trains.Draws(16, 30) {
		p := links(r, 12+n%2*108, most)
		for i := range p.Limits {
			p.Limits[i].Radius *= 1.3 // else few of the longer ones have a plan
		}
		goal := mip.Goal{Use: 1}
		all := Find(context.Background(), p, goal, Options{Solves: 4000})
		if all.Steps == nil {
			continue
		}
		got := Find(context.Background(), p, goal, Options{Windows: windows})
		require.NoError(t, certify.Check(p, got.Claim, got.Proof), "problem %d", n)
		assert.LessOrEqual(t, got.Bound, all.Value+1e-9, "problem %d", n)
		assert.LessOrEqual(t, got.Value, all.Value*(1+worse)+1e-9, "problem %d", n)
		if len(p.Vars) <= VeryLong {
			assert.Equal(t, all.Solves, got.Solves, "problem %d", n)
		} else if got.Solves < all.Solves && got.Status == Cut {
			rested++
		}
	}
	assert.Greater(t, rested, 3)
}

// Windows of a very long chain that are not searched again have nothing better with what is beside them as it is.
func TestWindowsThatAreSettled(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 7))
	settled, drawn := 0, trains.Draws(4, 20)
	for n := range drawn {
		p := rowOfMachines(r, 20, false)
		for j := range p.Vars {
			p.Vars[j].Lo, p.Vars[j].Hi = 3*p.Vars[j].Lo, 3*p.Vars[j].Hi
		}
		s := newTree(context.Background(), p, mip.Goal{Use: 0.2}, Options{Gap: defaultGap, Solves: 4000, Windows: 2000})
		if s.run(); s.steps == nil {
			continue
		}
		for at, as := range s.settled {
			from, to := max(0, at), min(at+window, 20)
			if !slices.Equal(as, s.steps[s.first[max(0, from-1)]:s.first[min(to+1, 20)]]) {
				continue // what is beside it has changed since
			}
			settled++
			piece, now := s.horizonProblem(s.steps, from, to, true), s.steps[s.first[from]:s.first[to]]
			best := Find(context.Background(), piece, s.goal, Options{Start: []mip.Steps{now}})
			require.Equal(t, Least, best.Status, "problem %d, window %d", n, at)
			assert.LessOrEqual(t, Cost(piece, now), best.Value*(1+2*defaultGap)+1e-9, "problem %d, window %d", n, at)
		}
	}
	t.Logf("%d settled in %d", settled, drawn)
	assert.Greater(t, settled, 2*drawn)
}
