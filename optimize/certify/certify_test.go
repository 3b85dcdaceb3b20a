package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/lattice"
)

// distance is the problem |x − 3.3| ≤ 1 over whole x in −5..5 at cost |x|: by
// hand, 3 and 4 keep it, and 2.3 is the least real x, so 3 is the least point.
func distance() *lattice.Problem {
	return &lattice.Problem{
		Vars:   []lattice.Var{{Weight: 1, Step: 1, Lo: -5, Hi: 5}},
		Limits: []lattice.Limit{{Rows: []lattice.Row{{Terms: []lattice.Term{{Var: 0, Coefficient: 1}}, Constant: -3.3}}, Radius: 1}},
	}
}

// The witness u = -1 says |x| ≥ 3.3 − 1 = 2.3: that closes every claim below
// and none above.
func TestWitnessByHand(t *testing.T) {
	p := distance()
	box := Claim{Lo: lattice.Steps{-5}, Hi: lattice.Steps{5}, Use: 1}
	proof := &Proof{Witness: &Witness{Price: 1, Pull: []float64{-1}}}
	for cost, holds := range map[float64]bool{1: true, 2.29: true, 2.31: false, 3: false} {
		box.Cost = cost
		assert.Equal(t, holds, Check(p, box, proof) == nil, "no point below %v", cost)
	}
	// Splitting at 2 closes it at 3: below, x ≤ 2 breaks the limit; above, |x| ≥ 3.
	box.Cost = 3
	split := &Proof{
		Var: 0, At: 2,
		Below: &Proof{Witness: &Witness{Pull: []float64{-1}}},
		Above: &Proof{Witness: &Witness{Price: 1, Pull: []float64{0}}},
	}
	require.NoError(t, Check(p, box, split), "exact: the upper half costs 3 and no less")
	box.Cost = 3.0000001
	assert.Error(t, Check(p, box, split), "3 itself costs less than that")
	box.Cost, split.Below.Witness.Pull[0] = 3, 1
	assert.Error(t, Check(p, box, split), "the other sign proves nothing")
	split.Below.Witness.Pull[0], split.At = -1, 3
	assert.Error(t, Check(p, box, split), "x = 3 was let through")
	split.At, split.Above = 2, nil
	assert.Error(t, Check(p, box, split), "half of the box is missing")
}

// Narrowing needs a reason for every side that it takes off.
func TestNarrowing(t *testing.T) {
	p := distance()
	c := Claim{Lo: lattice.Steps{-5}, Hi: lattice.Steps{5}, Use: 1, Cost: 3}
	// u = -1 bounds the cost of x by (|x| − x) + 2.3: negative x cost more than 3.
	n := &Proof{
		Witness: &Witness{Price: 1, Pull: []float64{-1}}, Lo: lattice.Steps{0}, Hi: lattice.Steps{5},
		At: 2, Below: &Proof{Witness: &Witness{Pull: []float64{-1}}}, Above: &Proof{Witness: &Witness{Price: 1, Pull: []float64{0}}},
	}
	require.NoError(t, Check(p, c, n))
	n.Lo[0] = 3
	assert.Error(t, Check(p, c, n), "1 and 2 were cut off, and the witness does not say why")
	n.Lo[0], n.Hi[0] = 0, 2
	assert.Error(t, Check(p, c, n), "3 to 5 were cut off")
}

func TestWitnessesThatMeanNothing(t *testing.T) {
	p := distance()
	c := Claim{Lo: lattice.Steps{-5}, Hi: lattice.Steps{5}, Use: 1, Cost: 1}
	for name, w := range map[string]*Witness{
		"too few numbers": {Price: 1},
		"not a number":    {Price: 1, Pull: []float64{math.NaN()}},
		"infinite":        {Price: 1, Pull: []float64{math.Inf(-1)}},
		"negative price":  {Price: -1, Pull: []float64{-1}},
	} {
		assert.Error(t, Check(p, c, &Proof{Witness: w}), name)
	}
	c.Cost = math.Inf(1)
	assert.Error(t, Check(p, c, &Proof{Witness: &Witness{Price: 1, Pull: []float64{-1}}}), "a price on a cost that is not limited")
	assert.Error(t, Check(p, c, nil), "nothing at all")
	c.Lo = nil
	assert.Error(t, Check(p, c, &Proof{}), "a box of another shape")
}

// Two discs that overlap by 1e-6 hold a point; two that are 1e-6 apart do not,
// and the straight pull apart proves it. By hand: centres 2 apart, radii
// summing to 2 ± 1e-6.
func TestDiscs(t *testing.T) {
	disc := func(centre, radius float64) lattice.Limit {
		return lattice.Limit{Radius: radius, Rows: []lattice.Row{
			{Terms: []lattice.Term{{Var: 0, Coefficient: 1}}, Constant: -centre}, {Terms: []lattice.Term{{Var: 1, Coefficient: 1}}},
		}}
	}
	vars := []lattice.Var{{Weight: 1, Step: 1e-6, Lo: -4, Hi: 4}, {Weight: 1, Step: 1e-6, Lo: -4, Hi: 4}}
	c := Claim{Lo: lattice.Steps{-4e6, -4e6}, Hi: lattice.Steps{4e6, 4e6}, Use: 1, Cost: math.Inf(1)}
	pull := &Proof{Witness: &Witness{Pull: []float64{1, 0, -1, 0}}}
	apart := &lattice.Problem{Vars: vars, Limits: []lattice.Limit{disc(0, 1), disc(2, 1-1e-6)}}
	assert.NoError(t, Check(apart, c, pull))
	overlap := &lattice.Problem{Vars: vars, Limits: []lattice.Limit{disc(0, 1), disc(2, 1+1e-6)}}
	assert.Error(t, Check(overlap, c, pull))
	assert.NoError(t, Keeps(overlap, lattice.Steps{1e6, 0}, 1, 1e-12))
	assert.Error(t, Keeps(apart, lattice.Steps{1e6, 0}, 1, 1e-12))
}

// Touching a block costs where it cannot stay, and not where it can.
func TestTouch(t *testing.T) {
	p := distance()
	p.Touch = []float64{0.5}
	c := Claim{Lo: lattice.Steps{-5}, Hi: lattice.Steps{5}, Use: 1, Cost: 2.7}
	w := &Proof{Witness: &Witness{Price: 1, Pull: []float64{-1}}}
	assert.Error(t, Check(p, c, w), "x = 0 may stand for all that the witness knows")
	c.Lo[0] = 1
	assert.NoError(t, Check(p, c, w), "2.3 and 0.5 for touching")
	c.Cost = 2.9
	assert.Error(t, Check(p, c, w))
}

// The limits that share the use are taken at it, the others are not.
func TestUse(t *testing.T) {
	p := distance()
	c := Claim{Lo: lattice.Steps{-5}, Hi: lattice.Steps{5}, Use: 0.5, Cost: 2.5}
	w := &Proof{Witness: &Witness{Price: 1, Pull: []float64{-1}}}
	assert.Error(t, Check(p, c, w), "its own limit stays 1: 2.3")
	p.Limits[0].Shared = true
	assert.NoError(t, Check(p, c, w), "half of 1: 2.8")
}

func TestKeeps(t *testing.T) {
	p := distance()
	assert.NoError(t, Keeps(p, lattice.Steps{3}, 1, 0))
	assert.NoError(t, Keeps(p, lattice.Steps{4}, 1, 0))
	assert.Error(t, Keeps(p, lattice.Steps{2}, 1, 0))
	assert.Error(t, Keeps(p, lattice.Steps{6}, 1, 0), "out of its range")
}
