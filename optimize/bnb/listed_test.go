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
	"leastmove/testdata/trains"
)

// drawListed is a problem as draw makes them, in wider boxes, with some
// variables that may only take steps that are listed: 0 mostly among them, some
// of them outside the box, now and then none within it.
func drawListed(r *rand.Rand) *mip.Problem {
	p := draw(r)
	for j := range p.Vars {
		v := &p.Vars[j]
		if r.IntN(2) == 0 {
			continue
		}
		v.Lo, v.Hi = -6*v.Step, 6*v.Step
		v.Only = []int{-9 + r.IntN(19)}
		for n := -8; n <= 8; n++ {
			if n == 0 && r.IntN(8) > 0 || r.IntN(4) == 0 {
				v.Only = append(v.Only, n)
			}
		}
		slices.Sort(v.Only)
		v.Only = slices.Compact(v.Only)
	}
	return p
}

// places are the steps that each variable may take, by looking at all of them.
func places(p *mip.Problem) [][]int {
	out := make([][]int, len(p.Vars))
	for j, v := range p.Vars {
		for n := -20; n <= 20; n++ {
			x := float64(n) * v.Step
			near := v.Least > 1 && n != 0 && n < v.Least && -n < v.Least
			if x >= v.Lo-1e-9 && x <= v.Hi+1e-9 && (v.Only == nil && !near || slices.Contains(v.Only, n)) {
				out[j] = append(out[j], n)
			}
		}
	}
	return out
}

// tryPlaces is the least value over every point of the places.
func tryPlaces(p *mip.Problem, goal mip.Goal) float64 {
	j, all := newJudge(newGrid(p), goal, never), places(p)
	best, s := math.Inf(1), make(mip.Steps, len(p.Vars))
	var set func(k int)
	set = func(k int) {
		if k == len(s) {
			at := j.at(s)
			best = math.Min(best, j.value(&at))
			return
		}
		for _, n := range all[k] {
			s[k] = n
			set(k + 1)
		}
	}
	set(0)
	return best
}

// Where only some steps may be taken the search finds what trying every point
// finds. Its proof holds for the problem as it is, and for none in which the
// claim is false: not with all steps let in, not with a dearer claim.
func TestFindAmongListedSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 19))
	solved, impossible, leaning, cut := 0, 0, 0, 0
	drawn := trains.Draws(60, 400)
	for n := range drawn {
		p := drawListed(r)
		for _, goal := range []mip.Goal{
			{Use: 0.8},
			{LeastUse: true, MostUse: 1, Cap: 0.8},
		} {
			name := fmt.Sprintf("problem %d, %+v", n, goal)
			want, gap := tryPlaces(p, goal), 1e-9
			if goal.LeastUse {
				gap = 1e-5
			}
			got := Find(context.Background(), p, goal, Options{Gap: gap})
			require.NoError(t, certify.Check(p, got.Claim, got.Proof), name)

			// The same proof, with every step let in.
			open := *p
			open.Vars = slices.Clone(p.Vars)
			for j := range open.Vars {
				open.Vars[j].Only = nil
			}
			if !goal.LeastUse {
				if free := Find(context.Background(), &open, goal, Options{Gap: gap}); free.Status == Least &&
					free.Value < got.Claim.Cost-1e-9 {
					leaning++
					assert.Error(t, certify.Check(&open, got.Claim, got.Proof), name)
				}
			}
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
			require.NoError(t, certify.Keeps(p, got.Steps, use, 1e-8), name)
			if !goal.LeastUse {
				dearer := got.Claim
				dearer.Cost = got.Value + 1e-6
				assert.Error(t, certify.Check(p, dearer, got.Proof), name)
			}
			if got.Proof.Below != nil && certify.Check(p, got.Claim, &certify.Proof{Var: got.Proof.Var, At: got.Proof.At,
				Below: got.Proof.Below}) != nil {
				cut++
			}
		}
	}
	t.Log("solved", solved, "impossible", impossible, "leaning on what is barred", leaning,
		"in need of their upper half", cut)
	assert.Greater(t, solved, drawn/2)
	assert.Greater(t, impossible, drawn/8)
	assert.Greater(t, leaning, drawn/8, "proofs that lean on barred steps must be among them")
	assert.Greater(t, cut, drawn/20)
}

// Local search and breakouts stay where the variables may be, and keep their books.
func TestLocalSearchAndBreakoutAmongListedSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 21))
	possible, walked, hunted := 0, 0, 0
	drawn := trains.Draws(60, 300)
	for n := range drawn {
		p := drawListed(r)
		goal := mip.Goal{Use: 0.8}
		j, all := newJudge(newGrid(p), goal, never), places(p)
		s := make(mip.Steps, len(p.Vars))
		empty := false
		for v := range s {
			if empty = empty || len(all[v]) == 0; !empty {
				s[v] = all[v][r.IntN(len(all[v]))]
			}
		}
		if empty {
			assert.True(t, mip.Empty(j.lo, j.hi), "problem %d", n)
			continue
		}
		w := j.localSearch(j.at(s), j.lo, j.hi)
		before := w.best
		w.down()
		assert.LessOrEqual(t, w.best, before, "problem %d", n)
		assert.False(t, j.barred(w.steps), "problem %d", n)
		assert.InDelta(t, j.cost(w.steps), w.cost, 1e-9, "problem %d", n)
		fresh := j.localSearch(j.at(w.steps), j.lo, j.hi)
		assert.InDelta(t, fresh.best, w.best, 1e-7, "problem %d", n)

		h := newBreakout(j)
		h.use, h.most = goal.Use, math.Inf(1)
		h.begin(s)
		found := h.next(20000)
		for v, n := range h.steps {
			require.Contains(t, all[v], n)
		}
		if math.IsInf(tryPlaces(p, goal), 1) {
			assert.False(t, found, "problem %d has no point", n)
			continue
		}
		possible++
		if w.over == 0 {
			walked++
		}
		if found {
			hunted++
			at := j.at(h.steps)
			assert.False(t, math.IsInf(j.value(&at), 1), "problem %d", n)
		}
	}
	t.Log("of", possible, "with a point, one was found by", walked, "walks and", hunted, "hunts")
	assert.Greater(t, possible, drawn*8/30)
	assert.Greater(t, hunted, possible*9/10)
}
