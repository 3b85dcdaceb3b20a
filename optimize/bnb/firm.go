package bnb

import (
	"container/heap"
	"context"
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// Firm makes what a search without a plan has proven hold for what curved rows stand for (mip.Curve).
// The problem is that of the search with the curves of its rows. Boxes that the search's
// proof still closes with each limit as much longer as its rows may be off there stay
// closed; the others are searched on: a row is off by less in a smaller box. Where the work
// ends before they are closed the bound is lower. A point that the search's rows turned
// down for less than they may be off is offered to Accept, so Firm may find a plan.
//
// Of the limits of the search the problem has those of its claim, in that order. Of the
// options Solves bounds the further work.
func Firm(ctx context.Context, p *mip.Problem, r Result, opt Options) Result {
	if r.Proof == nil || math.IsNaN(r.Bound) || r.Goal.LeastUse && r.Bound < fineUse {
		return r
	}
	own := *p // turns are capped in it
	own.TurnMost = slices.Clone(p.TurnMost)
	t := treeOf(ctx, &own, nil, r.Goal, opt)
	t.firm = true
	// Nothing better than the bound is wanted: what is to be shown is that there is none.
	t.best, t.beside = r.Bound, r.Steps != nil
	if t.beside && t.goal.LeastUse {
		t.best *= 1 - firmUse
	}
	if mip.Empty(t.lo, t.hi) {
		r.Claim = t.claim(r.Bound)
		return r
	}
	parts := t.byParts(r)
	if walk := t.firmWalk(&r); walk.bound > parts.bound {
		parts = walk
	}
	few := t.firmStretch(&r)
	if few.bound > parts.bound {
		parts = few
	}
	if parts.bound >= t.floor() || few.proof != nil && t.beside {
		return t.provenByParts(r, parts)
	}
	for _, s := range opt.Start {
		t.tryPoint(t.clip(s))
	}
	root := &certify.Proof{}
	lo, hi := append(mip.Steps(nil), t.lo...), append(mip.Steps(nil), t.hi...)
	at, some := root, true
	if c := r.Proof.Certificate; c != nil && len(lo) > 0 && (t.goal.LeastUse || !t.beside) {
		c = t.padded(c)
		at, some = t.capped(root, lo, hi, func() bool { return t.loses(c, lo, hi) })
	}
	if some {
		t.replay(at, r.Proof, lo, hi, known{bound: math.Inf(-1)})
	}
	lower := math.Inf(-1)
	for len(t.open) > 0 {
		n := heap.Pop(&t.open).(*node)
		lower = math.Max(lower, t.raise(n.bound))
		if n.done || lower >= t.floor() || t.solves >= t.opt.Solves || t.stopped() || r.Status == Impossible && t.hopeless() {
			heap.Push(&t.open, n)
			break
		}
		if t.offerNear(n); t.near != nil {
			heap.Push(&t.open, n)
			break
		}
		t.onward(n)
	}
	switch {
	case len(t.open) == 0:
	case parts.bound > lower:
		lower, root = parts.bound, parts.proof
	case t.beside && !t.sloped && parts.proof == nil:
		if p := t.paid(t.lo, t.hi); p.bound > lower {
			lower, root = p.bound, &certify.Proof{Certificate: p.certificate}
		}
	}
	if t.goal.LeastUse {
		t.steps = nil
	} else if len(t.open) > 0 && lower < 0 && !t.sloped {
		lower, root = 0, t.costsCount()
	}
	out := t.result(lower, root)
	out.Firm, out.Of = true, r.Claim.Limits
	switch {
	case t.near != nil:
		p := t.at(t.near)
		out.Steps, out.Value, out.Status = t.near, t.use(&p), Cut
	case t.steps == nil: // nothing better was found
		out.Steps, out.Value, out.Status = r.Steps, r.Value, r.Status
		if out.Bound = math.Min(out.Bound, r.Bound); r.Status == Impossible && len(t.open) > 0 {
			out.Status = Cut
		}
		if len(t.open) == 0 {
			out.Bound = t.best
		}
		if !(t.goal.LeastUse && out.Bound < fineUse) {
			out.Claim = t.claim(out.Bound)
		}
	case len(t.open) > 0:
		out.Status = Cut
	default:
		out.Status = Least
	}
	out.Solves = r.Solves + t.solves
	return out
}

// hopeless says whether more boxes are open than there are programs left for, where all must be closed.
func (t *tree) hopeless() bool {
	return !t.goal.LeastUse && t.weighed >= weighsPerSolve*t.opt.Solves && len(t.open) > t.opt.Solves-t.solves
}

// firmUse is the share by which a bound on the worst use may fall when it is made firm: less than any reading shows,
// and the boxes just below a bound are many.
const firmUse = 0.01

// floor is the bound from which on a box need not be closed: as good as what the search
// said, but for rounding.
func (t *tree) floor() float64 {
	if math.IsInf(t.best, 1) {
		return t.best
	}
	return t.best - t.rounded(t.best)/2
}

// replay goes through the search's proof of a box, and opens what it does not close here;
// into takes what holds. so is what is known of the box.
func (t *tree) replay(into, was *certify.Proof, lo, hi mip.Steps, so known) {
	if !t.Afford(lo, hi, t.affordable()) || !t.Narrow(lo, hi, t.most(), slack) {
		return
	}
	if was == nil || t.stopped() {
		t.reopen(into, lo, hi, so)
		return
	}
	leaf := was.Below == nil && was.Above == nil
	if was.Certificate != nil && (leaf || was.Lo != nil) {
		c := t.padded(was.Certificate)
		if _, done := t.settle(into, c, lo, hi, &so); done {
			return
		}
		if leaf && c.Price == 0 && !t.beside {
			into.Var, into.At, into.Below, into.Above = 0, hi[0], &certify.Proof{}, &certify.Proof{}
			t.divide(into.Below, c, lo, hi, so)
			return
		}
	}
	if leaf {
		t.reopen(into, lo, hi, so)
		return
	}
	into.Var, into.At = was.Var, was.At
	into.Below, into.Above = &certify.Proof{}, &certify.Proof{}
	below, above := append(mip.Steps(nil), hi...), append(mip.Steps(nil), lo...)
	below[was.Var], above[was.Var] = min(hi[was.Var], was.At), max(lo[was.Var], was.At+1)
	t.replay(into.Below, was.Below, append(mip.Steps(nil), lo...), below, so)
	t.replay(into.Above, was.Above, above, append(mip.Steps(nil), hi...), so)
}

// padded is a certificate with nothing pulled at limits that the search did not know, which come last.
func (t *tree) padded(c *certify.DualCertificate) *certify.DualCertificate {
	pull := make([]float64, len(t.constant))
	copy(pull, c.Pull)
	return &certify.DualCertificate{Price: c.Price, Pull: pull}
}

// affordable is what a point costs that is still wanted, at most.
func (t *tree) affordable() float64 {
	if t.goal.LeastUse {
		return t.goal.Cap
	}
	return t.best
}

// known is a bound of a box, and why it holds.
type known struct {
	bound       float64
	certificate *certify.DualCertificate // nil: there is no bound
}

// reopen keeps a box that is still to be closed, as a part of the proof's node.
func (t *tree) reopen(into *certify.Proof, lo, hi mip.Steps, so known) {
	if len(lo) == 0 {
		return
	}
	part := &certify.Proof{Certificate: so.certificate}
	into.Var, into.At, into.Below, into.Above = 0, hi[0], part, &certify.Proof{}
	if t.beside && so.certificate != nil { // the lowest come first
		t.keep(&node{lo: lo, hi: hi, bound: so.bound, proof: part})
		return
	}
	t.again(&node{lo: lo, hi: hi, bound: so.bound, proof: part})
}

// again bounds the box of a node anew. In the proof it is a split with nothing above.
func (t *tree) again(n *node) {
	if t.solves >= t.opt.Solves || t.stopped() {
		t.keep(n)
		return
	}
	t.solves++
	r := t.bound(t.left, n.lo, n.hi)
	n.proof.Var, n.proof.At = 0, n.hi[0]
	n.proof.Above = &certify.Proof{}
	n.proof.Below = t.push(r, n)
}

// halved halves a box by what makes a certificate's limits loose, and bounds both halves by that certificate.
func (t *tree) halved(n *node, c *certify.DualCertificate, w *weight) {
	s := t.loosest(n, w)
	if s.variable < 0 {
		s = t.widest(n)
	}
	above, below := t.boxes(n, &s)
	n.proof.Var, n.proof.At = s.variable, s.at
	half := func(lo, hi mip.Steps) *certify.Proof {
		out := &certify.Proof{}
		so := known{n.bound, c}
		if _, done := t.weighedBox(out, c, lo, hi, &so); done {
			return out
		}
		if out.Lo == nil {
			out.Certificate = so.certificate
		}
		t.keep(&node{lo: lo, hi: hi, bound: so.bound, proof: out})
		return out
	}
	n.proof.Below = half(append(mip.Steps(nil), n.lo...), below)
	n.proof.Above = half(above, append(mip.Steps(nil), n.hi...))
}

// keep puts a node back as it is.
func (t *tree) keep(n *node) {
	n.serial, n.level = t.serial, n.bound
	t.serial++
	heap.Push(&t.open, n)
}

// onward works on a box that is open: bounds it anew where it is so much smaller by now
// that its limits are far less loose, else splits it, by what makes its limits loose where
// that is what keeps it open.
func (t *tree) onward(n *node) {
	if single(n.lo, n.hi) {
		t.single(n)
		return
	}
	w := t.weigh(n.certificate(), n.lo, n.hi)
	short := t.best - n.bound
	loose := w.loss > short // it would be closed if its limits were not loose
	if math.IsInf(short, 1) {
		const much = 0.3 // of a limit
		short, loose = w.loss, w.loosest > much
	}
	if n.x != nil && n.loss-w.loss > 0.3*short && n.again < 3 {
		again := *n
		again.again++
		t.again(&again)
		return
	}
	if c := n.certificate(); c != nil && c.Price == 0 && w.total+w.off > 0 && t.weighed < weighsPerSolve*t.opt.Solves {
		// Being loose is all that keeps it open.
		if t.beside {
			t.halved(n, c, w)
			return
		}
		part := &certify.Proof{}
		n.proof.Var, n.proof.At, n.proof.Below, n.proof.Above = 0, n.hi[0], part, &certify.Proof{}
		t.divide(part, c, append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...), known{n.bound, c})
		return
	}
	s := split{variable: -1}
	if loose || n.x == nil {
		s = t.loosest(n, w)
	}
	scout := t.alone()
	if s.variable < 0 && n.x != nil {
		s = scout.choose(n)
	}
	if s.variable < 0 {
		s = t.loosest(n, w)
	}
	if s.variable < 0 {
		s = t.widest(n)
	}
	if !s.bounded {
		scout.halves(n, &s)
	}
	t.taught(scout)
	n.proof.Var, n.proof.At = s.variable, s.at
	n.again = 0
	n.proof.Below, n.proof.Above = t.push(s.below, n), t.push(s.above, n)
}
