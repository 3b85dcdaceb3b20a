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

// draw is a random chain of two to three blocks of two variables each, small
// enough to try every point: boxes of seven steps or fewer, discs of one to
// three rows within and between blocks.
func draw(r *rand.Rand) *mip.Problem {
	p := &mip.Problem{}
	blocks := 2 + r.IntN(2)
	for b := range blocks {
		for range 2 {
			step := []float64{0.05, 0.1, 0.3}[r.IntN(3)]
			p.Vars = append(p.Vars, mip.Var{
				Block: b, Weight: []float64{1, 2, 1.5}[r.IntN(3)], Step: step,
				Lo: -step * float64(1+r.IntN(3)), Hi: step * float64(1+r.IntN(3)),
			})
		}
		if r.IntN(4) == 0 {
			p.Vars[2*b].Least = 2
		}
	}
	if r.IntN(3) == 0 {
		for range blocks {
			p.FixedCost = append(p.FixedCost, 0.1*float64(r.IntN(4)))
		}
	}
	for b := range blocks {
		for range 1 + r.IntN(2) {
			l := mip.Limit{Radius: 0.1 + 0.3*r.Float64(), Shared: r.IntN(2) == 0}
			for range 1 + r.IntN(3) {
				row := mip.Row{Constant: 0.6 * (r.Float64() - 0.5)}
				for v := max(0, 2*b-2); v < 2*b+2; v++ {
					if r.IntN(4) > 0 {
						row.Terms = append(row.Terms, mip.Term{Var: v, Coefficient: 2*r.Float64() - 1})
					}
				}
				l.Rows = append(l.Rows, row)
			}
			p.Limits = append(p.Limits, l)
		}
	}
	return p
}

// enumerate is the least value over every point of the box.
func enumerate(p *mip.Problem, goal mip.Goal) float64 {
	j := newJudge(newGrid(p), goal, never)
	best := math.Inf(1)
	s := append(mip.Steps(nil), j.lo...)
	for {
		at := j.at(s)
		best = math.Min(best, j.value(&at))
		k := 0
		for ; k < len(s); k++ {
			if s[k]++; s[k] <= j.hi[k] {
				break
			}
			s[k] = j.lo[k]
		}
		if k == len(s) {
			return best
		}
	}
}

// On problems small enough to try every point, the search finds what trying
// finds, for both goals, and its proof holds.
func TestFindAgainstTryingEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	solved, impossible := 0, 0
	drawn := trains.Draws(60, 300)
	for n := range drawn {
		p := draw(r)
		for _, goal := range []mip.Goal{
			{Use: 0.8},
			{LeastUse: true, MostUse: 1, Cap: math.Inf(1)},
			{LeastUse: true, MostUse: 1, Cap: 0.8},
		} {
			name := fmt.Sprintf("problem %d, %+v", n, goal)
			want, gap := enumerate(p, goal), 1e-9
			if goal.LeastUse {
				gap = 1e-5 // uses have no grain, so bounds stay behind them by the tolerance of a bound
			}
			got := Find(context.Background(), p, goal, Options{Gap: gap})
			require.NoError(t, certify.Check(p, got.Claim, got.Proof), name)
			if math.IsInf(want, 1) {
				impossible++
				assert.Equal(t, Impossible, got.Status, name)
				continue
			}
			solved++
			require.Equal(t, Least, got.Status, name)
			assert.InDelta(t, want, got.Value, 1e-7+2*gap, name)
			assert.LessOrEqual(t, got.Bound, want+1e-9, name)
			use := goal.Use
			if goal.LeastUse {
				use = goal.MostUse
			}
			assert.NoError(t, certify.Keeps(p, got.Steps, use, 1e-8), name)
		}
	}
	assert.Greater(t, solved, drawn*2/3, "the problems drawn must not be mostly impossible")
	assert.Greater(t, impossible, drawn/6, "nor mostly possible")
}

// The relaxation's bound is no more than any point's value.
func TestRelaxBoundsEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 10))
	for n := range trains.Draws(60, 200) {
		p := draw(r)
		goal := mip.Goal{Use: 0.8}
		want := enumerate(p, goal)
		got := Relax(context.Background(), p, goal)
		if !math.IsInf(want, 1) {
			assert.LessOrEqual(t, got.Bound, want+1e-9, "problem %d", n)
			assert.False(t, got.Impossible(), "problem %d", n)
		}
	}
}

// A local search only ever goes down, and what it keeps beside the point stays true.
func TestLocalSearchKeepsItsBooks(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for n := range 200 {
		p := draw(r)
		j := newJudge(newGrid(p), mip.Goal{Use: 0.8}, never)
		s := make(mip.Steps, len(p.Vars))
		for v := range s {
			s[v] = j.lo[v] + r.IntN(j.hi[v]-j.lo[v]+1)
		}
		p.Shut(s, append(mip.Steps(nil), s...))
		w := j.localSearch(j.at(s), j.lo, j.hi)
		before := w.best
		w.down()
		assert.LessOrEqual(t, w.best, before, "problem %d", n)
		fresh := j.localSearch(j.at(w.steps), j.lo, j.hi)
		assert.InDelta(t, fresh.best, w.best, 1e-7, "problem %d", n)
		assert.InDelta(t, j.cost(w.steps), w.cost, 1e-9, "problem %d", n)
	}
}

// The worst share of many limits is what it is when each is asked, after any steps.
func TestLocalSearchKnowsTheWorstShare(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 12))
	p := links(r, 150, 9)
	j := newJudge(newGrid(p), mip.Goal{LeastUse: true, MostUse: math.Inf(1), Cap: math.Inf(1)}, never)
	w := j.localSearch(j.at(make(mip.Steps, len(p.Vars))), j.lo, j.hi)
	require.Greater(t, len(w.worst), 3)
	for n := range 2000 {
		a := r.IntN(len(p.Vars))
		if by, ok := w.fits(a, 2*r.IntN(2)-1); ok {
			w.move(a, by)
		}
		assert.InDelta(t, j.localSearch(j.at(w.steps), j.lo, j.hi).score(), w.score(), 1e-9, "step %d", n)
	}
}

// A local search ends where sums are huge beside what a step gains, so that what is kept
// beside the point drifts by more than a gain: limits of a thousandth of a
// micrometre, far exceeded, for both goals.
func TestLocalSearchEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 13))
	for range 300 {
		p := draw(r)
		for i := range p.Limits {
			p.Limits[i].Radius *= 1e-6
			for k := range p.Limits[i].Rows {
				p.Limits[i].Rows[k].Constant *= 1e3
			}
		}
		for _, goal := range []mip.Goal{{Use: 0.8}, {LeastUse: true, MostUse: 1, Cap: 0.1}} {
			j := newJudge(newGrid(p), goal, never)
			w := j.localSearch(j.at(make(mip.Steps, len(p.Vars))), j.lo, j.hi)
			before := w.best
			w.down()
			assert.LessOrEqual(t, w.best, before)
		}
	}
}

// The same problem gives the same result to the bit, and a bound on the work
// still leaves a bound that holds.
func TestFindRepeatsAndStops(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 12))
	for n := range 50 {
		p := draw(r)
		goal := mip.Goal{Use: 0.8}
		a := Find(context.Background(), p, goal, Options{})
		b := Find(context.Background(), p, goal, Options{})
		assert.Equal(t, a.Steps, b.Steps)
		assert.Equal(t, math.Float64bits(a.Bound), math.Float64bits(b.Bound))
		assert.Equal(t, a.Solves, b.Solves)

		short := Find(context.Background(), p, goal, Options{Solves: 1})
		require.NoError(t, certify.Check(p, short.Claim, short.Proof), "problem %d", n)
		assert.LessOrEqual(t, short.Bound, enumerate(p, goal)+1e-9, "problem %d", n)
		stopped, stop := context.WithCancel(context.Background())
		stop()
		cut := Find(stopped, p, goal, Options{})
		assert.LessOrEqual(t, cut.Bound, enumerate(p, goal)+1e-9, "problem %d", n)
	}
}

// A point that keeps every limit but is turned down is not taken, and the proof
// leans on that and says so.
func TestAcceptHasTheLastWord(t *testing.T) {
	p := &mip.Problem{
		Vars:   []mip.Var{{Weight: 1, Step: 1, Lo: -5, Hi: 5}},
		Limits: []mip.Limit{{Rows: []mip.Row{{Terms: []mip.Term{{Var: 0, Coefficient: 1}}, Constant: -3}}, Radius: 1}},
	}
	got := Find(context.Background(), p, mip.Goal{Use: 1}, Options{Accept: func(s mip.Steps) bool { return s[0] != 2 }})
	require.Equal(t, Least, got.Status)
	assert.Equal(t, 3.0, got.Value, "x = 2 keeps |x - 3| ≤ 1 but was turned down")
	require.NoError(t, certify.Check(p, got.Claim, got.Proof))
	got.Claim.Refuses = nil
	assert.Error(t, certify.Check(p, got.Claim, got.Proof), "without the refusal 2 < 3 stands against the claim")
}

// never has no search end early.
func never() bool { return false }
