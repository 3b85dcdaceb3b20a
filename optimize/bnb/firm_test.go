package bnb

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// nearTo is |x - at| ≤ radius in whole steps of 1 from 0 to 10, each costing 1, where what the row stands for may be
// off by so much.
func nearTo(at, radius, off float64) *mip.Problem {
	x := []mip.Term{{Var: 0, Coefficient: 1}}
	p := &mip.Problem{
		Vars:   []mip.Var{{Weight: 1, Step: 1, Lo: 0, Hi: 10}},
		Limits: []mip.Limit{{Radius: radius, Shared: true, Rows: []mip.Row{{Terms: x, Constant: -at}}}},
	}
	if off > 0 {
		p.Turns, p.TurnMost = []mip.Row{{Terms: x}}, []float64{math.Inf(1)}
		p.Limits[0].Rows[0].Off = []mip.Curve{{Fixed: off}}
	}
	return p
}

// A bound holds of what rows stand for. By hand: |x - 5| ≤ 0.5 gives 5; off by up to 1 it is 3.5 without whole steps
// and 4 with them. With no work the bound is no more than the first, with work no more than the second, unless 4 is
// turned down; then it is 5.
func TestFirmBoundsByHand(t *testing.T) {
	straight, bent, goal := nearTo(5, 0.5, 0), nearTo(5, 0.5, 1), mip.Goal{Use: 1}
	found := Find(context.Background(), straight, goal, Options{})
	require.Equal(t, 5.0, found.Value)
	require.InDelta(t, 5, found.Bound, 1e-6)
	require.Error(t, certify.Check(bent, found.Claim, found.Proof), "of the bent row it does not hold")
	for _, c := range []struct {
		solves int
		takes  bool // Accept takes 4
		most   float64
		least  float64
	}{
		{0, true, 4, 0},
		{100, true, 4, 3.5},
		{100, false, 5, 5},
	} {
		r := found
		r.Steps = nil
		got := Firm(context.Background(), bent, r, Options{Solves: c.solves,
			Accept: func(s mip.Steps) bool { return c.takes || s[0] != 4 }})
		assert.LessOrEqual(t, got.Bound, c.most+1e-6, "%+v", c)
		assert.GreaterOrEqual(t, got.Bound, c.least-1e-6, "%+v", c)
		require.NoError(t, certify.Check(bent, got.Claim, got.Proof), "%+v", c)
	}
}

// That there is nothing is not proven where the bend of a row may leave something; what is there is found. By hand:
// no whole step is within 0.2 of 5.3, but 5 is where the row may be off by 0.2.
func TestFirmFindsWhatStraightRowsTurnDown(t *testing.T) {
	straight, bent, goal := nearTo(5.3, 0.2, 0), nearTo(5.3, 0.2, 0.2), mip.Goal{Use: 1}
	none := Find(context.Background(), straight, goal, Options{})
	require.Equal(t, Impossible, none.Status)
	for _, takes := range []bool{true, false} {
		got := Firm(context.Background(), bent, none, Options{Solves: 100,
			Accept: func(s mip.Steps) bool { return takes }})
		if !takes {
			assert.Equal(t, Impossible, got.Status, "the one point there is was turned down")
			require.NoError(t, certify.Check(bent, got.Claim, got.Proof))
			continue
		}
		assert.Equal(t, mip.Steps{5}, got.Steps)
		assert.NotEqual(t, Impossible, got.Status)
	}
	cut := Firm(context.Background(), bent, none, Options{Solves: 0, Accept: func(mip.Steps) bool { return false }})
	assert.NotEqual(t, Impossible, cut.Status, "no work, no proof")
}

// Where no box is small the variables pay for what the rows may be off: by hand, the sum of six of up to 10 is within
// 6 of 24, but for what is off by up to its square by 600. That gives 18/1.1 = 16.36; as loose as in the whole box it
// is 12.
func TestFirmBoundsThatArePaidFor(t *testing.T) {
	problem := func(off []mip.Curve) *mip.Problem {
		p := &mip.Problem{}
		var sum []mip.Term
		for j := range 6 {
			p.Vars = append(p.Vars, mip.Var{Weight: 1, Step: 0.01, Lo: 0, Hi: 10})
			sum = append(sum, mip.Term{Var: j, Coefficient: 1})
		}
		p.Limits = []mip.Limit{{Radius: 6, Rows: []mip.Row{{Terms: sum, Constant: -24, Off: off}}}}
		if off != nil {
			p.Turns, p.TurnMost = []mip.Row{{Terms: sum}}, []float64{60}
		}
		return p
	}
	straight, bent := problem(nil), problem([]mip.Curve{{Sum: []mip.Bend{{A: 0, B: 0, By: 1.0 / 600}}}})
	found := Find(context.Background(), straight, mip.Goal{Use: 1}, Options{})
	require.InDelta(t, 18, found.Bound, 0.02)
	got := Firm(context.Background(), bent, found, Options{Solves: 1})
	require.NoError(t, certify.Check(bent, got.Claim, got.Proof))
	assert.Greater(t, got.Bound, 16.3)
	assert.Less(t, got.Bound, 17.5, "where true geometry keeps it")
}
