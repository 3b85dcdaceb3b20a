package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// The largest turns in a box make limits loose in all of it. In a long chain no box is small: each machine
// by itself could take all that is moved. There the variables pay for what rows may be off at a point
// (mip.Problem.Paid): turning a machine makes its limits loose, and costs.

// payings is how often the prices that are left to the variables are worked out anew: they hang on the multipliers.
const payings = 3

// paid is the best bound on the cost in a box by a certificate of which the variables pay for all turns.
func (t *tree) paid(lo, hi mip.Steps) known {
	out := known{bound: math.Inf(-1)}
	if t.goal.LeastUse || !t.Curved() {
		return out
	}
	turns := []int{}
	for a := range t.Turns {
		if len(t.Turns[a].Terms) > 0 {
			turns = append(turns, a)
		}
	}
	straight := straight(t.Problem)
	for range payings {
		if t.stopped() {
			break
		}
		t.solves++
		r := newRelaxer(newGrid(straight), t.goal, t.stopped).solve(lo, hi, math.Inf(1))
		if r.proof == nil || r.proof.Price == 0 {
			break
		}
		_, each := t.Problem.Paid(r.proof.Pull, turns, lo, hi)
		if each == nil {
			break
		}
		c := t.scaled(r.proof, t.weigh(r.proof, lo, hi).slope, each)
		c.Paid = turns
		if w := t.weigh(c, lo, hi); w.bound > out.bound {
			out = known{w.bound, c}
		}
		for j := range straight.Vars {
			straight.Vars[j].Weight = math.Max(0, t.Vars[j].Weight-each[j])
		}
	}
	return out
}

// straight is a problem with rows that are what they stand for, to be changed.
func straight(curved *mip.Problem) *mip.Problem {
	p := *curved
	p.Turns, p.TurnMost = nil, nil
	p.Vars, p.Limits = slices.Clone(p.Vars), slices.Clone(p.Limits)
	for i := range p.Limits {
		rows := slices.Clone(p.Limits[i].Rows)
		for r := range rows {
			rows[r].Off = nil
		}
		p.Limits[i].Rows = rows
	}
	return &p
}

// scaled is a certificate with pulls so much smaller that no variable, which pays so much for each unit, falls below
// what a unit costs. slope is what the certificate pulls each variable by.
func (t *tree) scaled(c *certify.DualCertificate, slope, each []float64) *certify.DualCertificate {
	by := 1.0
	for j := range t.Vars {
		if pulled := math.Abs(slope[j]) + each[j]; t.Vars[j].Weight > 0 && pulled > t.Vars[j].Weight*c.Price {
			by = math.Min(by, t.Vars[j].Weight*c.Price/pulled)
		}
	}
	out := &certify.DualCertificate{Price: c.Price, Pull: make([]float64, len(c.Pull))}
	for r, v := range c.Pull {
		out.Pull[r] = by * v
	}
	return out
}
