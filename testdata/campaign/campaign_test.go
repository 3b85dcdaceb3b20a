package main

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// disc is: least |x| + 2|y| with |(x − 3, y − 4)| ≤ 1, both within ±6.
func disc(within float64) *mip.Problem {
	return &mip.Problem{
		Vars: []mip.Var{{Weight: 1, Step: 0.01, Lo: -within, Hi: within}, {Weight: 2, Step: 0.01, Lo: -within, Hi: within}},
		Limits: []mip.Limit{{Radius: 1, Rows: []mip.Row{
			{Terms: []mip.Term{{Var: 0, Coefficient: 1}}, Constant: -3},
			{Terms: []mip.Term{{Var: 1, Coefficient: 1}}, Constant: -4},
		}}},
	}
}

// The least of a linear form over a disc is its value at the centre less the
// length of its weights: 3 + 2 × 4 − √5.
func TestDualCertificateProvesTheOptimum(t *testing.T) {
	p, least := disc(6), 11-math.Sqrt(5)
	w := dualCertificate(p, 1, false)
	assert.True(t, proves(p, 1, least*(1-1e-8), w))
	assert.False(t, proves(p, 1, least*(1+1e-6), w), "points as cheap as this exist")

	r := bnb.Relax(context.Background(), p, mip.Goal{Use: 1})
	c := certified(p, 1, r)
	assert.LessOrEqual(t, c.Under, 1e-8)
	assert.LessOrEqual(t, c.Outside, 1e-7)
	assert.Less(t, c.Gap, 1e-7)
	assert.Less(t, c.Excess, 1e-7)
}

// Within ±2 nothing is left of the disc: the nearest corner, (2, 2), is √5 − 1
// away from it.
func TestDualCertificateProvesThatNothingIsLeft(t *testing.T) {
	p := disc(2)
	r := bnb.Relax(context.Background(), p, mip.Goal{Use: 1})
	require.True(t, r.Impossible())
	assert.Zero(t, certified(p, 1, r).Under)
}

// A bound above the optimum and a point off the disc must not pass.
func TestFalseAnswersAreFound(t *testing.T) {
	p := disc(6)
	r := bnb.Relax(context.Background(), p, mip.Goal{Use: 1})
	require.NotNil(t, r.X)
	high := certified(p, 1, bnb.Relaxed{X: r.X, Bound: r.Bound * 1.001})
	assert.True(t, math.IsInf(high.Under, 1))
	off := certified(p, 1, bnb.Relaxed{X: []float64{r.X[0] - 0.001, r.X[1] - 0.001}, Bound: r.Bound})
	assert.True(t, math.IsInf(off.Outside, 1))
	assert.Greater(t, off.Excess, 1e-3, "(0.001, 0.001) moves it outwards by 0.001 (1 + 2)/√5 = 0.00134")
	assert.True(t, math.IsInf(certified(p, 1, bnb.Relaxed{Bound: math.Inf(1)}).Under, 1), "there are points")
}

// What a search claims is borne out, and a plan beyond its limits is not.
func TestDuelChecksCertificates(t *testing.T) {
	s, err := read("plain", 1, "")
	require.NoError(t, err)
	d := searched(s, 1<<40)
	require.Equal(t, bnb.Least, d.ours.Status)
	assert.Empty(t, d.broken)
	assert.False(t, math.IsInf(d.within[1], 1))

	d.ours.Steps = make(mip.Steps, len(d.ours.Steps)) // nothing moved: found outside
	require.Error(t, certify.Keeps(s.problem, d.ours.Steps, aim, 1e-9))
	d.check(s.problem)
	assert.Len(t, d.broken, 1)
}

func TestThirdRefereeSettles(t *testing.T) {
	value := func(v float64) answer { return answer{Status: "optimal", Value: &v} }
	none := answer{Status: "infeasible"}
	for _, c := range []struct {
		name      string
		ours      float64 // +Inf: infeasible
		cvx, cuts answer
		want      string
	}{
		{"all alike", 2, value(2), value(2), "both"},
		{"CVXOPT off", 2, value(2.1), value(2), "leastmove"},
		{"we are off", 2.1, value(2), value(2), "CVXOPT"},
		{"all apart", 2.1, value(2), value(2.2), "neither"},
		{"CVXOPT finds none", 2, none, value(2), "leastmove"},
		{"we find none", math.Inf(1), value(2), value(2), "CVXOPT"},
		{"no third answer", 2, value(2.1), answer{Status: "unknown"}, "undecided"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := verdict{value: c.ours, unit: 1, ours: bnb.Relaxed{Bound: c.ours, X: []float64{0}}}
			v.they.Relaxed, v.they.Cuts = c.cvx, c.cuts
			assert.Equal(t, c.want, v.settled())
		})
	}
}

func TestMedian(t *testing.T) {
	assert.Equal(t, 2.0, median([]float64{3, 1, 2}))
	assert.Equal(t, 2.5, median([]float64{4, 1, 3, 2}))
	assert.True(t, math.IsNaN(median(nil)))
}

// The long chains are there to be solved: they have a plan, and every machine
// its part in it.
func TestLongChainsHaveAPlan(t *testing.T) {
	for _, n := range []int{10, 100} {
		s, err := read("chain", uint64(n), long(n))
		require.NoError(t, err)
		assert.Len(t, s.train.Machines, n)
		assert.NotNil(t, bnb.Relax(context.Background(), s.problem, mip.Goal{Use: aim}).X)
	}
}
