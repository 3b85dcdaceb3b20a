package certify

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize/mip"
)

// Two variables in whole steps, each in a block of its own, come to at least 3 together (|x + y − 4| ≤ 1) and stand
// within 1 of 1.5 and of 2.5. By hand: 1 and 2 cost 3, and nothing costs less; without whole steps 0.5 and 2.5, and so
// at least 3 too. Pulled at by a half, the limit of both is worth 0.5 (4 − 1) = 1.5, and each variable costs half as
// much: at least 0.5 and 1 with whole steps, 0.25 and 0.75 without.
func TestPartsByHand(t *testing.T) {
	x, y := mip.Term{Var: 0, Coefficient: 1}, mip.Term{Var: 1, Coefficient: 1}
	row := func(constant float64, terms ...mip.Term) []mip.Row {
		return []mip.Row{{Terms: terms, Constant: constant}}
	}
	p := &mip.Problem{
		Vars: []mip.Var{{Weight: 1, Step: 1, Lo: -5, Hi: 5}, {Block: 1, Weight: 1, Step: 1, Lo: -5, Hi: 5}},
		Limits: []mip.Limit{{Radius: 1, Rows: row(-1.5, x)}, {Radius: 1, Rows: row(-2.5, y)},
			{Radius: 1, Rows: row(-4, x, y)}},
	}
	none := func() *Proof { return &Proof{Certificate: &DualCertificate{Price: 1, Pull: []float64{0}}} }
	whole := func() *Parts {
		return &Parts{Cut: DualCertificate{Price: 1, Pull: []float64{0, 0, -0.5}}, Ends: []int{1, 2},
			Least: []float64{0.5, 1}, Proof: []*Proof{none(), none()}}
	}
	check := func(cost float64, change func(n *Parts)) error {
		n := whole()
		change(n)
		c := Claim{Lo: mip.Steps{-5, -5}, Hi: mip.Steps{5, 5}, Use: 1, Cost: cost}
		return Check(p, c, &Proof{Parts: n})
	}
	assert.NoError(t, check(3, func(*Parts) {}), "all is whole steps")
	assert.NoError(t, check(2, func(n *Parts) { n.Cut.Pull[2], n.Least = -1.5, []float64{-1, -1.5} }),
		"pulled at more than it costs, with 4.5 for the limit")
	for name, change := range map[string]func(n *Parts){
		"the first part may cost less":   func(n *Parts) { n.Least[0] = 0.6 },
		"and what it does is not 3":      func(n *Parts) { n.Least[0] = 0.4 },
		"not all of it is proven":        func(n *Parts) { n.Proof = n.Proof[:1] },
		"a part has no proof":            func(n *Parts) { n.Proof[1] = nil },
		"a part is left out":             func(n *Parts) { n.Ends, n.Least, n.Proof = n.Ends[:1], n.Least[:1], n.Proof[:1] },
		"a part is empty":                func(n *Parts) { n.Ends[0] = 2 },
		"there is no such block":         func(n *Parts) { n.Ends[1] = 3 },
		"the limit is pulled at by less": func(n *Parts) { n.Cut.Pull[2] = -0.4 },
		"what is paid for has a price":   func(n *Parts) { n.Cut.Price = 0.5 },
		"there is no such limit":         func(n *Parts) { n.Cut.Pull = n.Cut.Pull[:2] },
	} {
		assert.Error(t, check(3, change), name)
	}
	p.Turns, p.TurnMost = []mip.Row{{Terms: []mip.Term{x}}}, []float64{5}
	p.Limits[2].Rows[0].Off = []mip.Curve{{Sum: []mip.Bend{{A: 0, B: -1, By: 3}}}}
	paid := func(n *Parts) { n.Cut.Paid, n.Least = []int{0}, []float64{9, 1} }
	p.FixedCost = []float64{10, 0} // of setting x at all
	assert.NoError(t, check(10.49, paid),
		"x pays 1.5 of its cost of 1 for what the limit may be off, so at 2 it is 1 short")
	assert.Error(t, check(10.6, paid))
	p.FixedCost, p.Turns, p.TurnMost, p.Limits[2].Rows[0].Off = nil, nil, nil, nil
	p.Vars[0].Lo, p.Vars[0].Step = -4.8, 0.6
	assert.Error(t, check(3, func(*Parts) {}), "0.6 and 2.4 would do")
}

// What a part is short of the whole counts as far as its variable goes: by hand, a weight that is paid away from 1 to
// −0.5 is 0 in the part, which is 0.5 too much for each unit, and 5 units are 10 steps.
func TestShortPartsByHand(t *testing.T) {
	half := big.NewRat(-1, 4) // for each step
	w := &weighed{up: []*big.Rat{half}, down: []*big.Rat{half}}
	assert.Equal(t, "5/2", w.short(0, &mip.Var{Step: 0.5}, -4, 10).String())
	assert.Equal(t, "1/1", w.short(0, &mip.Var{Step: 0.5}, -4, 0).String())
	assert.Equal(t, "5/1", w.short(0, &mip.Var{Step: 0.5, Slope: 0.5}, -4, 10).String(), "up alone it costs 0.25 a step")
}
