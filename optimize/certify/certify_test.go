package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/mip"
)

// lens is |(x + y − 3.3, x − y)| ≤ 1 over whole x and y in −5..5 at cost
// |x| + |y|. By hand: without whole steps the least cost is 2.3, at x = y = 1.15.
// Whole points with x + y = 3 have |x − y| ≥ 1 and a length of √(0.09 + 1), too
// long; (2, 2) has 0.7 and keeps it. So the least point costs 4.
func lens() *mip.Problem {
	both := func(b float64) []mip.Term {
		return []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: b}}
	}
	return &mip.Problem{
		Vars:   []mip.Var{{Weight: 1, Step: 1, Lo: -5, Hi: 5}, {Weight: 1, Step: 1, Lo: -5, Hi: 5}},
		Limits: []mip.Limit{{Rows: []mip.Row{{Terms: both(1), Constant: -3.3}, {Terms: both(-1)}}, Radius: 1}},
	}
}

func claim(cost float64) Claim {
	return Claim{Lo: mip.Steps{-5, -5}, Hi: mip.Steps{5, 5}, Use: 1, Cost: cost}
}

// pull says x + y ≥ 3.3 − 1 = 2.3.
func pull() *DualCertificate { return &DualCertificate{Price: 1, Pull: []float64{-1, 0}} }

// tree proves that no point costs less than 4: with x ≤ 1 only (1, 2) is near
// and breaks the limit, with y ≤ 1 only (2, 1) is, and x ≥ 2 with y ≥ 2 cost 4.
func tree() *Proof {
	return &Proof{
		Var: 0, At: 1, Below: &Proof{},
		Above: &Proof{Var: 1, At: 1, Below: &Proof{},
			Above: &Proof{Certificate: &DualCertificate{Price: 1, Pull: []float64{0, 0}}}},
	}
}

func TestDualCertificateByHand(t *testing.T) {
	p := lens()
	for cost, holds := range map[float64]bool{1: true, 2.29: true, 2.31: false, 4: false} {
		assert.Equal(t, holds, Check(p, claim(cost), &Proof{Certificate: pull()}) == nil, "no point below %v", cost)
	}
	wrong := &Proof{Certificate: &DualCertificate{Price: 1, Pull: []float64{1, 0}}}
	assert.Error(t, Check(p, claim(1), wrong), "the other sign proves nothing")
}

func TestTreeByHand(t *testing.T) {
	p := lens()
	require.NoError(t, Check(p, claim(4), tree()), "exact: the last quarter costs 4 and no less")
	assert.Error(t, Check(p, claim(4.0000001), tree()), "(2, 2) costs less than that")
	n := tree()
	n.At = 2
	assert.Error(t, Check(p, claim(4), n), "(2, 2) was let through")
	n = tree()
	n.Above.Below = nil
	require.NoError(t, Check(p, claim(4), n), "narrowing alone empties that box")
	n.Above.Above = nil
	assert.Error(t, Check(p, claim(4), n), "a quarter is missing")
	n = tree()
	n.Var = 2
	assert.Error(t, Check(p, claim(4), n), "there is no such variable")
}

// Narrowing by a dual certificate needs a reason for every side that it takes off. The
// pull bounds the cost by (|x| − x) + (|y| − y) + 2.3: negative values cost more
// than 3, others need not.
func TestNarrowing(t *testing.T) {
	p := lens()
	n := tree()
	n.Certificate, n.Lo, n.Hi = pull(), mip.Steps{0, 0}, mip.Steps{5, 5}
	require.NoError(t, Check(p, claim(3), n))
	n.Lo[0] = 1
	assert.Error(t, Check(p, claim(3), n), "x = 0 was cut off, and the certificate does not say why")
	n.Lo[0], n.Hi[1] = 0, 2
	assert.Error(t, Check(p, claim(3), n), "y = 3 to 5 were cut off")
}

func TestDualCertificatesThatMeanNothing(t *testing.T) {
	p := lens()
	for name, w := range map[string]*DualCertificate{
		"too few numbers": {Price: 1},
		"not a number":    {Price: 1, Pull: []float64{math.NaN(), 0}},
		"infinite":        {Price: 1, Pull: []float64{math.Inf(-1), 0}},
		"negative price":  {Price: -1, Pull: []float64{-1, 0}},
	} {
		assert.Error(t, Check(p, claim(1), &Proof{Certificate: w}), name)
	}
	assert.Error(t, Check(p, claim(math.Inf(1)), &Proof{Certificate: pull()}), "a price on a cost that is not limited")
	assert.Error(t, Check(p, claim(1), nil), "nothing at all")
	c := claim(1)
	c.Lo = nil
	assert.Error(t, Check(p, c, &Proof{}), "a box of another shape")
}

// A single point is judged itself: it costs enough, breaks a limit or is turned
// down.
func TestSinglePoint(t *testing.T) {
	p := lens()
	at := func(x, y int, cost float64) Claim {
		return Claim{Lo: mip.Steps{x, y}, Hi: mip.Steps{x, y}, Use: 1, Cost: cost}
	}
	single := &Proof{}
	assert.NoError(t, Check(p, at(2, 2, 4), single), "costs 4")
	assert.Error(t, Check(p, at(2, 2, 4.5), single), "costs less and keeps the limit")
	assert.NoError(t, Check(p, at(1, 1, 4), single), "breaks the limit")
	c := at(2, 2, 4.5)
	c.Refuses = func(s mip.Steps) bool { return s[0] == 2 }
	assert.NoError(t, Check(p, c, single), "is turned down")
	assert.Error(t, Check(p, claim(4.5), single), "not a single point")
}

// Two discs that overlap by 1e-6 hold a point; two that are 1e-6 apart do not,
// and the straight pull apart proves it. By hand: centres 2 apart, radii
// summing to 2 ± 1e-6.
func TestDiscs(t *testing.T) {
	disc := func(centre, radius float64) mip.Limit {
		return mip.Limit{Radius: radius, Rows: []mip.Row{
			{Terms: []mip.Term{{Var: 0, Coefficient: 1}}, Constant: -centre}, {Terms: []mip.Term{{Var: 1, Coefficient: 1}}},
		}}
	}
	vars := []mip.Var{{Weight: 1, Step: 1e-6, Lo: -4, Hi: 4}, {Weight: 1, Step: 1e-6, Lo: -4, Hi: 4}}
	c := Claim{Lo: mip.Steps{-4e6, -4e6}, Hi: mip.Steps{4e6, 4e6}, Use: 1, Cost: math.Inf(1)}
	pull := &Proof{Certificate: &DualCertificate{Pull: []float64{1, 0, -1, 0}}}
	apart := &mip.Problem{Vars: vars, Limits: []mip.Limit{disc(0, 1), disc(2, 1-1e-6)}}
	assert.NoError(t, Check(apart, c, pull))
	overlap := &mip.Problem{Vars: vars, Limits: []mip.Limit{disc(0, 1), disc(2, 1+1e-6)}}
	assert.Error(t, Check(overlap, c, pull))
	assert.NoError(t, Keeps(overlap, mip.Steps{1e6, 0}, 1, 1e-12))
	assert.Error(t, Keeps(apart, mip.Steps{1e6, 0}, 1, 1e-12))
}

// Touching a block costs where it cannot stay, and not where it can.
func TestTouch(t *testing.T) {
	p := lens()
	p.FixedCost = []float64{0.5}
	c, w := claim(2.7), &Proof{Certificate: pull()}
	assert.Error(t, Check(p, c, w), "0 may stand for all that the certificate knows")
	c.Lo[0] = 1
	assert.NoError(t, Check(p, c, w), "2.3 and 0.5 for touching")
	c.Cost = 2.9
	assert.Error(t, Check(p, c, w))
}

// The limits that share the use are taken at it, the others are not.
func TestUse(t *testing.T) {
	p := lens()
	c, w := claim(2.5), &Proof{Certificate: pull()}
	c.Use = 0.5
	assert.Error(t, Check(p, c, w), "its own limit stays 1: 2.3")
	p.Limits[0].Shared = true
	assert.NoError(t, Check(p, c, w), "half of 1: 2.8")
}

func TestKeeps(t *testing.T) {
	p := lens()
	assert.NoError(t, Keeps(p, mip.Steps{2, 2}, 1, 0))
	assert.Error(t, Keeps(p, mip.Steps{1, 2}, 1, 0))
	assert.Error(t, Keeps(p, mip.Steps{2, 3}, 1, 0))
	assert.Error(t, Keeps(p, mip.Steps{6, 6}, 1, 0), "out of its range")
}

// Without x = 2 the lens holds no point. By hand: x ≤ 1 leaves (1, 2) alone,
// which is too far out, and the next x is 3, where y ≤ 3.3 + 1 − 3 and
// y ≥ 3 − 1 are at odds. So a split below the gap proves it, or within it.
func TestListedSteps(t *testing.T) {
	p := lens()
	none := claim(math.Inf(1))
	for at, holds := range map[int]bool{0: false, 1: true, 2: true, 3: false} {
		split := &Proof{Var: 0, At: at, Below: &Proof{}, Above: &Proof{}}
		p.Vars[0].Only = []int{-5, 0, 1, 3, 5}
		assert.Equal(t, holds, Check(p, none, split) == nil, "split at %d", at)
		p.Vars[0].Only = []int{-5, 0, 1, 2, 3, 5}
		assert.Error(t, Check(p, none, split), "(2, 2) may be taken")
		p.Vars[0].Only = nil
		assert.Error(t, Check(p, none, split), "and so if any may")
	}
	p.Vars[0].Only = []int{1, 3}
	at := Claim{Lo: mip.Steps{2, 2}, Hi: mip.Steps{2, 2}, Use: 1, Cost: 4.5}
	assert.NoError(t, Check(p, at, &Proof{}), "the point is barred")
	assert.Error(t, Keeps(p, mip.Steps{2, 2}, 1, 0))
	p.Vars[0].Only = []int{2}
	assert.Error(t, Check(p, at, &Proof{}))
	assert.NoError(t, Keeps(p, mip.Steps{2, 2}, 1, 0))
}

// What a dual certificate cuts off needs its reason, whatever is listed: a box narrowed
// to nothing but barred steps is empty only if all else was cut off rightly.
func TestNarrowingToBarredSteps(t *testing.T) {
	p := lens()
	p.Vars[0].Only = []int{-5, 5}
	n := &Proof{Certificate: pull(), Lo: mip.Steps{0, 0}, Hi: mip.Steps{4, 5}}
	c := claim(7)
	c.Lo[1], c.Hi[1] = 1, 1
	p.Limits[0].Radius = 9
	assert.Error(t, Check(p, c, n), "x = 5 costs 6 and keeps the limit: it was cut off for no reason")
}

// A row that may be off makes its limit longer, box by box: by hand, |x - 4| ≤ 1 that is
// off by up to a tenth of x² says x ≥ 2.6 where x is at most 2, which is nowhere, and
// x ≥ 2.1 where x is at most 3.
func TestRowsThatMayBeOff(t *testing.T) {
	x := []mip.Term{{Var: 0, Coefficient: 1}}
	p := &mip.Problem{
		Vars:     []mip.Var{{Weight: 1, Step: 1, Lo: 0, Hi: 10}},
		Turns:    []mip.Row{{Terms: x}},
		TurnMost: []float64{math.Inf(1)},
		Limits: []mip.Limit{{Radius: 1,
			Rows: []mip.Row{{Terms: x, Constant: -4, Off: []mip.Curve{{Sum: []mip.Bend{{A: 0, B: 0, By: 0.1}}}}}}}},
	}
	certificate := &Proof{Certificate: &DualCertificate{Price: 1, Pull: []float64{-1}}}
	check := func(hi int, cost float64) error {
		return Check(p, Claim{Lo: mip.Steps{0}, Hi: mip.Steps{hi}, Use: 1, Cost: cost}, certificate)
	}
	assert.NoError(t, check(2, 2.6))
	assert.Error(t, check(3, 3.2), "x = 3 may keep it")
	fine := *p
	fine.Vars = []mip.Var{{Weight: 1, Step: 0.25, Lo: 0, Hi: 10}}
	assert.Error(t, Check(&fine, Claim{Lo: mip.Steps{0}, Hi: mip.Steps{12}, Use: 1, Cost: 2.9}, certificate),
		"2.25 may keep it; a row that is never off says 3")
	assert.NoError(t, Keeps(p, mip.Steps{3}, 1, 0))
	assert.Error(t, Keeps(p, mip.Steps{2}, 1, 0), "2 past the middle, and off by 0.4")
	p.Limits[0].Rows[0].Off = []mip.Curve{{Caps: []mip.Cap{{Turn: 0, Most: 1}}}}
	assert.Error(t, check(2, 2.6), "nothing is known of the row")
}

// What a row may be off can be paid for by what it takes: by hand, the sum of six is within 6 of 24, but for what is
// off by up to its square by 600. The sum is up to 60 in the box, so that is up to a tenth of the sum: pulled at by
// 1/1.1 it takes 1/11 of what the six cost, and they come to at least 18/1.1 = 16.36. As loose as in the whole box,
// by 6, the limit says 12. By true geometry it is 17.49.
func TestWhatRowsMayBeOffIsPaidFor(t *testing.T) {
	const six = 6
	p := &mip.Problem{TurnMost: []float64{60}}
	var sum []mip.Term
	lo, hi := make(mip.Steps, six), make(mip.Steps, six)
	for j := range six {
		p.Vars = append(p.Vars, mip.Var{Weight: 1, Step: 0.01, Lo: 0, Hi: 10})
		sum, hi[j] = append(sum, mip.Term{Var: j, Coefficient: 1}), 1000
	}
	p.Turns = []mip.Row{{Terms: sum}}
	p.Limits = []mip.Limit{{Radius: 6, Rows: []mip.Row{{Terms: sum, Constant: -24,
		Off: []mip.Curve{{Sum: []mip.Bend{{A: 0, B: 0, By: 1.0 / 600}}}}}}}}
	check := func(cost float64, proof Proof) error {
		return Check(p, Claim{Lo: lo, Hi: hi, Use: 1, Cost: cost}, &proof)
	}
	paid := func(by float64, turns ...int) *DualCertificate {
		return &DualCertificate{Price: 1, Pull: []float64{-by}, Paid: turns}
	}
	assert.NoError(t, check(16.36, Proof{Certificate: paid(1/1.1, 0)}))
	assert.Error(t, check(16.37, Proof{Certificate: paid(1/1.1, 0)}))
	assert.Error(t, check(16.36, Proof{Certificate: paid(1, 0)}), "what they cost is paid out")
	assert.NoError(t, check(11.99, Proof{Certificate: paid(1)}))
	assert.Error(t, check(12.01, Proof{Certificate: paid(1)}))
	assert.Error(t, check(11, Proof{Certificate: paid(1/1.1, 1)}), "there is no such turn")
	assert.Error(t, check(11, Proof{Certificate: paid(1/1.1, 0, 0)}))

	lifted := mip.Steps{300, 0, 0, 0, 0, 0}
	assert.Error(t, check(16.3, Proof{Certificate: paid(1, 0), Lo: lifted, Hi: hi, Above: &Proof{}, At: 1000,
		Below: &Proof{Certificate: paid(1/1.1, 0)}}), "cut off for no reason")
	p.Limits[0].Rows[0].Off = []mip.Curve{{Caps: []mip.Cap{{Turn: 0, Most: 1}}}}
	assert.Error(t, check(11, Proof{Certificate: paid(1/1.1, 0)}), "nothing is known of the row")
}
