package bnb

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// trips is a context that ends once it was asked so often whether it has, and counts how
// often it is asked after that.
type trips struct {
	context.Context
	asked       sync.Mutex // searches ask from several goroutines
	left, after int
}

func (c *trips) Err() error {
	c.asked.Lock()
	defer c.asked.Unlock()
	if c.left > 0 {
		c.left--
		return nil
	}
	c.after++
	return context.Canceled
}

// parallelLimits is a chain of blocks of two variables with limits between neighbours in
// many conditions: the same rows with other constants.
func parallelLimits(blocks, conditions int, seed uint64) *mip.Problem {
	r := rand.New(rand.NewPCG(seed, 1))
	p := &mip.Problem{}
	for b := range blocks {
		for range 2 {
			p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 0.05, Lo: -5, Hi: 5})
		}
	}
	for b := range blocks - 1 {
		found := [2]float64{r.Float64() - 0.5, r.Float64() - 0.5}
		for range conditions {
			l := mip.Limit{Radius: 0.12 + 0.05*r.Float64(), Shared: true}
			for k := range 2 {
				l.Rows = append(l.Rows, mip.Row{Constant: found[k] + 0.1*(r.Float64()-0.5), Terms: []mip.Term{
					{Var: 2*b + k, Coefficient: -1.2}, {Var: 2*b + 1 - k, Coefficient: 0.2}, {Var: 2*b + 2 + k, Coefficient: 1}}})
			}
			p.Limits = append(p.Limits, l)
		}
	}
	return p
}

// With limits left out until they are broken a search finds the same values as with all of
// them, and its proof holds of the whole problem.
func TestLimitsTakenInAsTheyAreBroken(t *testing.T) {
	found, none := 0, 0
	for seed := range uint64(3) {
		p := parallelLimits(2, 20, seed)
		require.NotNil(t, newReserve(p), "there are limits to leave out")
		for _, goal := range []mip.Goal{{Use: 1}, {Use: 0.15}, {LeastUse: true, MostUse: 1, Cap: math.Inf(1)}} {
			opt := Options{Gap: 1e-6, Solves: 2000}
			some := Find(context.Background(), p, goal, opt)
			all := treeOf(context.Background(), p, nil, goal, opt).run()
			require.Equal(t, all.Status, some.Status, "seed %d, %+v", seed, goal)
			require.NoError(t, certify.Check(p, some.Claim, some.Proof), "seed %d, %+v", seed, goal)
			require.Less(t, len(some.Claim.Limits), len(p.Limits))
			if all.Status == Impossible {
				none++
				continue
			}
			found++
			assert.InDelta(t, all.Value, some.Value, 1e-4*(1+all.Value), "seed %d, %+v", seed, goal)
			assert.NoError(t, certify.Keeps(p, some.Steps, max(goal.Use, some.Value*(1+slack)), 2*slack))
		}
	}
	assert.Greater(t, found, 5)
	assert.Positive(t, none)
}

// A proof of some limits does not pass for one of others.
func TestAProofOfOtherLimits(t *testing.T) {
	p := parallelLimits(3, 20, 1)
	r := Find(context.Background(), p, mip.Goal{Use: 1}, Options{})
	require.NotNil(t, r.Steps)
	require.NoError(t, certify.Check(p, r.Claim, r.Proof))
	pulled := slices.IndexFunc(r.Proof.Certificate.Pull, func(u float64) bool { return u != 0 })
	require.GreaterOrEqual(t, pulled, 0)
	at := newGrid(p.Only(r.Claim.Limits)).owner[pulled]
	other := (at + 1) % len(r.Claim.Limits)
	r.Claim.Limits[at], r.Claim.Limits[other] = r.Claim.Limits[other], r.Claim.Limits[at]
	assert.Error(t, certify.Check(p, r.Claim, r.Proof))
	r.Claim.Limits = nil
	assert.Error(t, certify.Check(p, r.Claim, r.Proof), "not as many numbers as rows")
}

// The relaxation by some limits has the optimum of that by all.
func TestRelaxationBySomeLimits(t *testing.T) {
	for seed := range uint64(12) {
		p := parallelLimits(4, 20, seed)
		goal := mip.Goal{Use: 1}
		some := Relax(context.Background(), p, goal)
		l := newGrid(p)
		all := newRelaxer(l, goal, never).solve(l.lo, l.hi, math.Inf(1))
		if math.IsInf(all.bound, 1) {
			assert.True(t, some.Impossible(), "seed %d", seed)
			continue
		}
		require.False(t, math.IsNaN(some.Bound))
		assert.InDelta(t, all.bound, some.Bound, 1e-3*(1+all.bound), "seed %d", seed)
		require.NoError(t, certify.Check(p, some.Claim, some.Proof))
	}
}

// Wherever a search is ended, little is done after: each look at the context is followed by
// few more, and there are looks enough that none is far from the next.
func TestLittleIsDoneAfterTheEnd(t *testing.T) {
	const most = 60 // looks of what is under way then, to its end
	for _, conditions := range []int{3, 30} {
		p := parallelLimits(10, conditions, 3)
		looks := &trips{left: math.MaxInt}
		Find(looks, p, mip.Goal{Use: 0.7}, Options{Solves: 200})
		all := math.MaxInt - looks.left
		require.Greater(t, all, 200, "a search of 200 programs looks at least once in each")
		for n := 0; n < all; n += all/8 + 1 {
			end := &trips{left: n}
			r := Find(end, p, mip.Goal{Use: 0.7}, Options{Solves: 200})
			assert.LessOrEqual(t, end.after, most, "%d conditions, ended at look %d of %d", conditions, n, all)
			assert.NotEqual(t, Impossible, r.Status)
		}
	}
}

// A relaxation that is cut has no optimum, and no bound that does not hold.
func TestARelaxationThatIsCut(t *testing.T) {
	p := parallelLimits(6, 20, 3)
	whole := Relax(context.Background(), p, mip.Goal{Use: 1})
	require.NotNil(t, whole.X)
	for n := range 12 {
		r := Relax(&trips{left: n}, p, mip.Goal{Use: 1})
		assert.Nil(t, r.X, "ended at look %d", n)
		assert.LessOrEqual(t, r.Bound, whole.Bound+1e-6)
	}
}

// Where a point uses more than the use that is asked for beyond what its rows say, a
// breakout ends all the same.
func TestABreakoutEndsWhereLittleOfALimitIsLeft(t *testing.T) {
	p := parallelLimits(2, 4, 5)
	goal := mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}
	looks := &trips{left: 20_000} // a breakout looks every 256 tries
	w := newTree(looks, p, goal, Options{Gap: 0.01, Solves: 100,
		Accept: func(mip.Steps) bool { return false },
		Adds: func(mip.Steps) []float64 {
			adds := make([]float64, len(p.Limits))
			for i := range adds {
				adds[i] = 0.5
			}
			return adds
		}})
	w.bls = newBreakout(w.judge)
	w.follow(make(mip.Steps, len(p.Vars)), 0.1)
	assert.Zero(t, looks.after, "it ended by itself")
	w.aim(0.1)
	w.bls.begin(make(mip.Steps, len(p.Vars)))
	for i := range w.bls.trim {
		w.bls.trim[i] = 50 // more than is left
	}
	w.bls.afresh()
	assert.Positive(t, w.bls.over, "what is beyond the use is exceeded still")
}

// A reserve says of every point whether it breaks a limit that is left out, and notes one to take in.
func TestReserveJudgesWhatIsLeftOut(t *testing.T) {
	broken, kept := 0, 0
	r := rand.New(rand.NewPCG(15, 3))
	for seed := range uint64(3) {
		p := parallelLimits(2, 20, seed)
		s := newReserve(p)
		require.NotNil(t, s)
		for range 200 {
			at := make(mip.Steps, len(p.Vars))
			for v := range at {
				at[v] = s.all.lo[v] + r.IntN(s.all.hi[v]-s.all.lo[v]+1)
			}
			rows, want := s.all.at(at).rows, false
			for i := range p.Limits {
				want = want || !s.has[i] && s.all.share(i, rows) > 3
			}
			s.pending = nil
			assert.Equal(t, want, s.judge(rows, 3, 0, nil), "seed %d, %v", seed, at)
			assert.Equal(t, want, len(s.pending) > 0)
			if want {
				broken++
			} else {
				kept++
			}
		}
	}
	assert.Positive(t, broken)
	assert.Positive(t, kept)
}
