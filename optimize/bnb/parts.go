package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// A very long chain is bounded by parts of it: splitting a box of one machine hardly raises the bound of a hundred. The
// limits between the parts are weighed into the cost by the multipliers of the whole without whole steps, and each part
// is searched by itself, so that the bound has whole steps in it (certify.Parts).

const (
	// leastPart and mostPart are how many blocks a part has. Longer parts are cut less often and take longer.
	leastPart, mostPart = 4, 7
	// partPrograms are how many programs a part is given.
	partPrograms = 800
	// partGap is how far, as a share of the cost of the chain, the bounds of all parts together may stay behind the best
	// that was found of them.
	partGap = 0.002
)

// A partition is a bound on the cost of a chain by parts of it, with its proof.
type partition struct {
	bound float64 // -Inf: none
	proof *certify.Proof
}

// byParts bounds a very long chain of which a search has found a point.
func (t *tree) byParts(r Result) partition {
	if !t.beside || !t.veryLong() {
		return partition{bound: math.Inf(-1)}
	}
	whole := t.paid(t.lo, t.hi)
	if whole.certificate == nil {
		return partition{bound: math.Inf(-1)}
	}
	p := t.cutAt(whole.certificate, t.cuts(whole.certificate), r.Steps)
	if whole.bound > p.bound {
		return partition{whole.bound, &certify.Proof{Certificate: whole.certificate}}
	}
	return p
}

// provenByParts is the result of a search with what parts of the chain prove.
func (t *tree) provenByParts(r Result, p partition) Result {
	out := r
	if out.Bound = t.raise(p.bound); r.Steps != nil {
		out.Bound = math.Min(out.Bound, r.Value)
	}
	out.Solves += t.solves
	out.Firm, out.Of = true, r.Claim.Limits
	out.Claim, out.Proof = t.claim(out.Bound), p.proof
	return out
}

// cutAt bounds the chain by parts that end at some blocks, with what a certificate of all of it, of which the variables
// pay for turns, pulls at the limits between them. plan is the best point known.
func (t *tree) cutAt(whole *certify.DualCertificate, ends []int, plan mip.Steps) partition {
	pull := t.pulls(whole, ends)
	fixed, each := t.Problem.Paid(pull, whole.Paid, t.lo, t.hi)
	gap := partGap * t.cost(plan) / float64(len(ends))
	results := make([]Result, len(ends))
	sideBySide(len(ends), func(i int) {
		from := 0
		if i > 0 {
			from = ends[i-1]
		}
		p := t.Problem.Part(from, ends[i], pull, each)
		results[i] = t.searchPart(p, plan[t.first[from]:t.first[ends[i]]], gap)
		results[i].Solves = t.alike(results[i].Solves, p)
	})

	n := &certify.Parts{Cut: certify.DualCertificate{Price: 1, Pull: pull, Paid: whole.Paid}, Ends: ends}
	h := t.held(pull, t.goal.Use)
	bound, size := h.sum-fixed, h.size
	for i := range results {
		r := &results[i]
		if t.solves += r.Solves; r.Proof == nil || math.IsInf(r.Claim.Cost, 0) {
			return partition{bound: math.Inf(-1)}
		}
		n.Least, n.Proof = append(n.Least, r.Claim.Cost), append(n.Proof, r.Proof)
		bound += r.Claim.Cost
		size += math.Abs(r.Claim.Cost)
	}
	return partition{bound - margin*size, &certify.Proof{Parts: n}}
}

// searchPart searches a part of the chain to a gap, and makes what is proven of it hold for what its rows stand for.
// Without a proof where it finds no point.
func (t *tree) searchPart(p *mip.Problem, plan mip.Steps, gap float64) Result {
	opt := Options{Near: gap, Solves: partPrograms, Start: []mip.Steps{plan}}
	w := newTree(t.ctx, straight(p), t.goal, opt)
	w.part, w.ofLong = true, true
	r := w.run()
	if r.Steps == nil {
		return Result{Solves: r.Solves}
	}
	return Firm(t.ctx, p, r, Options{Solves: partPrograms})
}

// pulls are a certificate's pulls at the limits between parts alone.
func (t *tree) pulls(c *certify.DualCertificate, ends []int) []float64 {
	cut := make([]bool, len(t.first))
	for _, to := range ends {
		cut[to] = true
	}
	out := make([]float64, len(c.Pull))
	for i := range t.Limits {
		if to := t.joint(&t.Limits[i]); cut[to] {
			copy(out[t.rowStart[i]:], c.Pull[t.rowStart[i]:t.rowStart[i+1]])
		}
	}
	return out
}

// cuts are the ends of parts of a chain: where a certificate pulls least at the limits that are cut.
func (t *tree) cuts(c *certify.DualCertificate) (ends []int) {
	blocks := len(t.first) - 1
	cost := make([]float64, blocks+1) // of a cut after so many blocks
	for i, pull := range t.held(c.Pull, t.goal.Use).pulls {
		cost[t.joint(&t.Limits[i])] += pull * t.Limits[i].Radius
	}
	cost[0], cost[blocks] = 0, 0
	least, from := make([]float64, blocks+1), make([]int, blocks+1)
	for to := 1; to <= blocks; to++ {
		least[to] = math.Inf(1)
		for size := leastPart; size <= min(mostPart, to); size++ {
			if d := least[to-size] + cost[to]; d < least[to] {
				least[to], from[to] = d, to-size
			}
		}
	}
	for to := blocks; to > 0; to = from[to] {
		ends = append(ends, to)
	}
	slices.Reverse(ends)
	return ends
}

// joint is the second of the two blocks of a limit; 0: it is of one alone.
func (t *tree) joint(l *mip.Limit) int {
	first, last := len(t.first), 0
	for r := range l.Rows {
		for _, term := range l.Rows[r].Terms {
			first, last = min(first, t.Vars[term.Var].Block), max(last, t.Vars[term.Var].Block)
		}
	}
	if first >= last {
		return 0
	}
	return last
}
