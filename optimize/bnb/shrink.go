package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// Of the lowest use nothing says how far a train may move as a whole, and single limits say little of how far a machine
// may turn: in such a box curved rows may be off by a good part of a limit. All limits together say more. Before a
// bound on the use is made firm, each variable is brought in to what they leave of it.

const (
	// muchLoss is the loss of a bound on the use to limits being loose from which on the box is brought in.
	muchLoss = 0.003
	// shrinkings is how often that is done for all variables.
	shrinkings = 2
)

// shrunk is shrink of the whole box where a bound on the use, by its certificate, would lose much in it. It returns
// where the proof of the box goes on, and false where nothing is left of it.
func (t *tree) shrunk(root *certify.Proof, c *certify.DualCertificate, lo, hi mip.Steps) (*certify.Proof, bool) {
	if !t.goal.LeastUse || !t.beside || c == nil {
		return root, true
	}
	if !t.Narrow(lo, hi, t.most(), slack) {
		return root, false
	}
	at, some := root, true
	if t.weigh(t.padded(c), lo, hi).loss > muchLoss {
		at, some = t.shrink(root, lo, hi)
	}
	if !some || len(lo) == 0 {
		return at, some
	}
	// A node narrows its box once: what goes on narrows it again.
	at.Var, at.At, at.Below, at.Above = 0, hi[0], &certify.Proof{}, &certify.Proof{}
	return at.Below, true
}

// shrink brings a box, which it changes, in to what all limits at the claimed use leave of each variable, and writes
// the reasons into a proof. It returns where the proof goes on, and false where nothing is left.
func (t *tree) shrink(into *certify.Proof, lo, hi mip.Steps) (*certify.Proof, bool) {
	p := *t.Problem
	p.Vars = append([]mip.Var(nil), p.Vars...)
	for j := range p.Vars {
		p.Vars[j].Weight = 0
	}
	p.FixedCost = nil
	r := newRelaxer(newGrid(&p), mip.Goal{Use: t.claim(t.best).Use}, t.stopped)
	for range shrinkings {
		for j := range lo {
			for _, way := range [2]int{1, -1} {
				if hi[j]-lo[j] < 2 || t.stopped() || t.solves >= t.opt.Solves {
					continue
				}
				t.solves++
				p.Vars[j].Slope = float64(-way)
				out := r.solve(lo, hi, math.Inf(1))
				p.Vars[j].Slope = 0
				if out.proof == nil {
					continue
				}
				c := &certify.DualCertificate{Pull: out.proof.Pull}
				if out.status == socp.Infeasible {
					if !t.weigh(c, lo, hi).closes() {
						continue
					}
					into.Certificate = c
					return into, false
				}
				// Nothing is further than that, by more than rounding.
				most := int(math.Floor(-out.bound/p.Vars[j].Step + 1e-3))
				at, end := most, hi[j]
				if way < 0 {
					at, end = -most-1, -lo[j]
				}
				if most >= end {
					continue
				}
				farLo, farHi := append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
				next, far := &certify.Proof{}, &certify.Proof{Certificate: c}
				if way > 0 {
					farLo[j] = at + 1
				} else {
					farHi[j] = at
				}
				if t.Narrow(farLo, farHi, t.most(), slack) && !t.weigh(c, farLo, farHi).closes() {
					continue
				}
				into.Var, into.At = j, at
				if way > 0 {
					into.Below, into.Above = next, far
					hi[j] = at
				} else {
					into.Below, into.Above = far, next
					lo[j] = at + 1
				}
				into = next
				if !t.Narrow(lo, hi, t.most(), slack) {
					return into, false
				}
			}
		}
	}
	return into, true
}
