package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// weighsPerSolve is how many boxes are weighed for each cone program that may be solved: so
// many take about as long.
const weighsPerSolve = 20

// settle weighs a certificate over a box, and says whether that leaves nothing of it. What it closes or brings in
// goes into the proof, and a better bound into so.
func (t *tree) settle(into *certify.Proof, c *certify.DualCertificate, lo, hi mip.Steps, so *known) (*weight, bool) {
	w := t.weigh(c, lo, hi)
	if w.closes() {
		into.Certificate = c
		return w, true
	}
	if w.bound > so.bound {
		*so = known{w.bound, c}
	}
	if w.narrow(lo, hi) {
		into.Certificate = c
		into.Lo, into.Hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
		t.Shut(lo, hi)
		return w, mip.Empty(lo, hi)
	}
	return w, false
}

// weighedBox is settle of a box that is brought in first, counted.
func (t *tree) weighedBox(into *certify.Proof, c *certify.DualCertificate, lo, hi mip.Steps,
	so *known) (*weight, bool) {
	if !t.Afford(lo, hi, t.affordable()) || !t.Narrow(lo, hi, t.most(), slack) {
		return nil, true
	}
	t.weighed++
	return t.settle(into, c, lo, hi, so)
}

// divide halves a box by what makes a certificate's limits loose, until the certificate
// closes what is left or can't, which is searched on. That takes no cone programs.
func (t *tree) divide(into *certify.Proof, c *certify.DualCertificate, lo, hi mip.Steps, so known) {
	w, done := t.weighedBox(into, c, lo, hi, &so)
	if done {
		return
	}
	s := split{variable: -1}
	if w.total+w.off > 0 && t.weighed < weighsPerSolve*t.opt.Solves && !t.stopped() {
		s = t.loosest(&node{lo: lo, hi: hi}, w)
	}
	if s.variable < 0 {
		t.reopen(into, lo, hi, so)
		return
	}
	n := &node{lo: lo, hi: hi}
	above, below := t.boxes(n, &s)
	into.Var, into.At = s.variable, s.at
	into.Below, into.Above = &certify.Proof{}, &certify.Proof{}
	t.divide(into.Below, c, append(mip.Steps(nil), lo...), below, so)
	t.divide(into.Above, c, above, append(mip.Steps(nil), hi...), so)
}

// loosest is the variable whose range makes the limits that a bound leans on loose the
// most: it is split half way from the bound's optimum to its farther end, in the middle
// where nothing may be left.
func (t *tree) loosest(n *node, w *weight) split {
	best, most := split{variable: -1}, 0.0
	for j := range n.lo {
		if n.lo[j] == n.hi[j] {
			continue
		}
		by := w.loosens[j] * float64(n.hi[j]-n.lo[j]) * t.Vars[j].Step
		if by > most {
			most, best.variable = by, j
		}
	}
	j := best.variable
	if j < 0 {
		return best
	}
	at := float64(n.lo[j]+n.hi[j]) / 2
	if n.x != nil && !math.IsInf(t.best, 1) {
		if x := n.x[j]; x-float64(n.lo[j]) > float64(n.hi[j])-x {
			at = (x + float64(n.lo[j])) / 2
		} else {
			at = (x + float64(n.hi[j])) / 2
		}
	}
	below, _ := t.Vars[j].Around(at)
	best.at = min(max(below, n.lo[j]), n.hi[j]-1)
	return best
}

// A weight is a dual certificate weighed over a box, in floating point.
type weight struct {
	t       *tree
	price   []float64 // of a unit of each variable's size
	slope   []float64 // y of each variable
	least   []float64 // of each variable's own term
	total   float64   // less what the claim costs; with rounding off
	bound   float64   // of the goal, in the box; -Inf: none
	off     float64   // what being loose takes off the total
	loss    float64   // what being loose takes off the bound
	loosest float64   // largest share of a limit weighed that it is loose by
	loosens []float64 // of each variable: how much of that an mm of its range makes, about
}

// A held is what pulls at limits come to at least without variables.
type held struct {
	sum    float64
	size   float64   // of what was added up
	shared float64   // of that, what limits of which a share may be used take off at all of it
	pulls  []float64 // the length of each limit's pulls
}

// held adds up pulls at limits, of which a share may be used.
func (t *tree) held(pull []float64, use float64) held {
	out := held{pulls: make([]float64, len(t.Limits))}
	for i := range t.Limits {
		l := &t.Limits[i]
		for r, v := range pull[t.rowStart[i]:t.rowStart[i+1]] {
			if v == 0 { // most of them
				continue
			}
			out.sum += v * l.Rows[r].Constant
			out.size += math.Abs(v * l.Rows[r].Constant)
			out.pulls[i] = math.Hypot(out.pulls[i], v)
		}
		if out.pulls[i] == 0 {
			continue
		}
		radius := out.pulls[i] * l.Radius
		if l.Shared {
			out.shared += radius
			radius *= use
		}
		out.sum -= radius
		out.size += radius
	}
	return out
}

// weigh weighs a dual certificate over a box with the limits as loose as there; the claim is that
// nothing is better than the best. Without one it says nothing.
func (t *tree) weigh(w *certify.DualCertificate, lo, hi mip.Steps) *weight {
	out := &weight{t: t, slope: make([]float64, len(lo)), least: make([]float64, len(lo)),
		loosens: make([]float64, len(lo)), bound: math.Inf(-1), total: math.Inf(-1)}
	if w == nil {
		out.loss = math.Inf(1)
		t.spread(out, nil, t.Turned(lo, hi))
		return out
	}
	claim := t.claim(t.best)
	most := t.Turned(lo, hi)
	out.price = make([]float64, len(lo))
	for j, v := range t.Vars {
		out.price[j], out.slope[j] = w.Price*v.Weight, w.Price*v.Slope
	}
	h := t.held(w.Pull, claim.Use)
	sum, size, pulls := h.sum, h.size, h.pulls
	for i := range t.Limits {
		if pulls[i] == 0 {
			continue
		}
		l := &t.Limits[i]
		for r, v := range w.Pull[t.rowStart[i]:t.rowStart[i+1]] {
			for _, term := range l.Rows[r].Terms {
				out.slope[term.Var] += v * term.Coefficient
			}
		}
		if w.Paid == nil {
			loose := l.Loose(most)
			out.loosest = math.Max(out.loosest, loose/l.Radius)
			out.loss += pulls[i] * loose
		}
	}
	if w.Paid != nil {
		var each []float64
		out.loss, each = t.Problem.Paid(w.Pull, w.Paid, lo, hi)
		for j, by := range each {
			out.price[j] -= by
		}
	}
	for j, v := range t.Vars {
		own := func(n int) float64 { return term(v.Step, out.price[j], out.slope[j], n) }
		out.least[j] = math.Min(own(lo[j]), own(hi[j]))
		if lo[j] < 0 && hi[j] > 0 {
			out.least[j] = math.Min(out.least[j], 0)
		}
		sum += out.least[j]
		size += math.Abs(out.least[j])
	}
	sum += w.Price * t.fixedCost(lo, hi)
	out.off = out.loss
	sum -= out.loss + rounding*size
	switch {
	case t.goal.LeastUse && h.shared > 0:
		capped := 0.0
		if w.Price > 0 {
			capped = w.Price * t.goal.Cap
		}
		out.bound = claim.Use + (sum-capped)/h.shared
		out.loss /= h.shared
		sum -= capped
	case !t.goal.LeastUse && w.Price > 0:
		out.bound = sum / w.Price
		out.loss /= w.Price
		sum -= w.Price * claim.Cost
	}
	out.total = sum
	if math.IsNaN(out.total) {
		out.total, out.bound = math.Inf(-1), math.Inf(-1)
	}
	if out.loss == 0 { // nothing is weighed that is loose: all limits are too loose for that
		pulls = nil
	}
	t.spread(out, pulls, most)
	return out
}

// fixedCost is what blocks that cannot stay as they are cost in a box at least.
func (t *tree) fixedCost(lo, hi mip.Steps) float64 {
	var sum float64
	for b, fixed := range t.FixedCost {
		if t.moved(b, lo, hi) {
			sum += fixed
		}
	}
	return sum
}

// spread works out what loosens the limits; all of them where no pulls are known.
func (t *tree) spread(w *weight, pulls, most []float64) {
	for n, by := range t.Loosening(pulls, most) {
		for _, term := range t.Turns[n].Terms {
			w.loosens[term.Var] += by * math.Abs(term.Coefficient)
		}
	}
}

// closes says whether nothing better can be in the box.
func (w *weight) closes() bool { return w.total > 0 }

// narrow brings the box in to where something better can be; false where it knows nothing.
func (w *weight) narrow(lo, hi mip.Steps) bool {
	if math.IsInf(w.total, 0) {
		return false
	}
	v := w.t.Vars
	for j := range lo {
		// Without this variable's own term there is so much less, or less than nothing.
		left := -(w.total - w.least[j])
		up, down := (w.price[j]+w.slope[j])*v[j].Step, (w.price[j]-w.slope[j])*v[j].Step
		lo[j], hi[j] = affordable(lo[j], hi[j], left, up, down)
	}
	return true
}

// lossOf is what a relaxation's bound lost to its limits being loose.
func (t *tree) lossOf(r *relaxation) float64 {
	if r.proof == nil || r.status == socp.Infeasible {
		return 0
	}
	return t.weigh(r.proof, r.lo, r.hi).loss
}
