package bnb

import (
	"container/heap"
	"context"
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// Firm makes what a search has proven hold for what curved rows stand for (mip.Curve).
// The problem is that of the search with the curves of its rows. Boxes that the search's
// proof still closes with each limit as much longer as its rows may be off there stay
// closed; the others are searched on: a row is off by less in a smaller box. Where the work
// ends before they are closed the bound is lower. A point that the search's rows turned
// down for less than they may be off is offered to Accept, so Firm may find one that is
// better than anything the search knew.
//
// Of the limits of the search the problem has those of its claim, in that order. Of the
// options Solves bounds the further work.
func Firm(ctx context.Context, p *mip.Problem, r Result, opt Options) Result {
	if r.Proof == nil || math.IsNaN(r.Bound) || r.Goal.LeastUse && r.Bound < fineUse {
		return r
	}
	t := treeOf(ctx, p, nil, r.Goal, opt)
	t.firm = true
	// Nothing better than the bound is wanted: what is to be shown is that there is none.
	t.best = r.Bound
	if mip.Empty(t.lo, t.hi) {
		r.Claim = t.claim(r.Bound)
		return r
	}
	for _, s := range opt.Start {
		t.tryPoint(t.clip(s))
	}
	root := &certify.Proof{}
	lo, hi := append(mip.Steps(nil), t.lo...), append(mip.Steps(nil), t.hi...)
	t.replay(root, r.Proof, lo, hi, known{bound: math.Inf(-1)})
	lower := math.Inf(-1)
	for len(t.open) > 0 {
		n := heap.Pop(&t.open).(*node)
		lower = math.Max(lower, t.raise(n.bound))
		if n.done || lower >= t.floor() || t.solves >= t.opt.Solves || t.stopped() {
			heap.Push(&t.open, n)
			break
		}
		if t.offerNear(n); t.near != nil && r.Steps == nil {
			heap.Push(&t.open, n)
			break
		}
		t.onward(n)
	}
	if t.goal.LeastUse {
		t.steps = nil
	} else if len(t.open) > 0 && lower < 0 { // no cost is below zero
		lower, root = 0, &certify.Proof{Certificate: &certify.DualCertificate{Price: 1,
			Pull: make([]float64, len(t.constant))}}
	}
	out := t.result(lower, root)
	out.Firm, out.Of = true, r.Claim.Limits
	switch {
	case t.near != nil && r.Steps == nil:
		p := t.at(t.near)
		out.Steps, out.Value, out.Status = t.near, t.use(&p), Cut
	case t.steps == nil: // nothing better was found
		out.Steps, out.Value, out.Status = r.Steps, r.Value, r.Status
		if out.Bound = math.Min(out.Bound, r.Bound); r.Status == Impossible && len(t.open) > 0 {
			out.Status = Cut
		}
		if len(t.open) == 0 {
			out.Bound = r.Bound
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

// floor is the bound from which on a box need not be closed: as good as what the search
// said, but for rounding.
func (t *tree) floor() float64 {
	if math.IsInf(t.best, 1) {
		return t.best
	}
	return t.best - margin/2*math.Abs(t.best)
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
		// Limits that the search did not know come last.
		c := &certify.DualCertificate{Price: was.Certificate.Price,
			Pull: append(was.Certificate.Pull[:len(was.Certificate.Pull):len(was.Certificate.Pull)],
				make([]float64, len(t.constant)-len(was.Certificate.Pull))...)}
		w := t.weigh(c, lo, hi)
		if w.closes() {
			into.Certificate = c
			return
		}
		if w.bound > so.bound {
			so = known{w.bound, c}
		}
		if w.narrow(lo, hi) {
			into.Certificate = c
			into.Lo, into.Hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
			if t.Shut(lo, hi); mip.Empty(lo, hi) {
				return
			}
		}
		if leaf && c.Price == 0 {
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

// affordable is what a point costs that is still wanted, at most.
func (t *tree) affordable() float64 {
	if t.goal.LeastUse {
		return t.goal.Cap
	}
	return t.best
}

// weighsPerSolve is how many boxes are weighed for each cone program that may be solved: so
// many take about as long.
const weighsPerSolve = 20

// divide halves a box by what makes a certificate's limits loose, until the certificate
// closes what is left or can't, which is searched on. That takes no cone programs.
func (t *tree) divide(into *certify.Proof, c *certify.DualCertificate, lo, hi mip.Steps, so known) {
	if !t.Afford(lo, hi, t.affordable()) || !t.Narrow(lo, hi, t.most(), slack) {
		return
	}
	t.weighed++
	w := t.weigh(c, lo, hi)
	if w.closes() {
		into.Certificate = c
		return
	}
	if w.bound > so.bound {
		so = known{w.bound, c}
	}
	if w.narrow(lo, hi) {
		into.Certificate = c
		into.Lo, into.Hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
		if t.Shut(lo, hi); mip.Empty(lo, hi) {
			return
		}
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

// known is a bound of a box, and why it holds.
type known struct {
	bound   float64
	witness *certify.DualCertificate // nil: there is no bound
}

// reopen keeps a box that is still to be closed, as a part of the proof's node.
func (t *tree) reopen(into *certify.Proof, lo, hi mip.Steps, so known) {
	if len(lo) == 0 {
		return
	}
	part := &certify.Proof{Certificate: so.witness}
	into.Var, into.At, into.Below, into.Above = 0, hi[0], part, &certify.Proof{}
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

// keep puts a node back as it is.
func (t *tree) keep(n *node) {
	n.serial = t.serial
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
		part := &certify.Proof{}
		n.proof.Var, n.proof.At, n.proof.Below, n.proof.Above = 0, n.hi[0], part, &certify.Proof{}
		t.divide(part, c, append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...), known{n.bound, c})
		return
	}
	s := split{variable: -1}
	if loose || n.x == nil {
		s = t.loosest(n, w)
	}
	if s.variable < 0 && n.x != nil {
		s = t.choose(n)
	}
	if s.variable < 0 {
		s = t.loosest(n, w)
	}
	if s.variable < 0 {
		s = t.widest(n)
	}
	if !s.bounded {
		t.halves(n, &s)
	}
	n.proof.Var, n.proof.At = s.variable, s.at
	n.again = 0
	n.proof.Below, n.proof.Above = t.push(s.below, n), t.push(s.above, n)
}

func single(lo, hi mip.Steps) bool {
	for j := range lo {
		if lo[j] != hi[j] {
			return false
		}
	}
	return true
}

// single judges a box of one point: by Accept where it may be as good as is wanted.
func (t *tree) single(n *node) {
	p := t.at(n.lo)
	if t.goal.LeastUse {
		use := t.least(&p)
		if use < t.best && t.cost(n.lo) <= t.goal.Cap && !t.barred(n.lo) && t.accepts(n.lo) {
			// How good it is by what the rows stand for is not said: its box stays open.
			n.bound, n.done = math.Max(n.bound, use), true
			t.near = append(mip.Steps(nil), n.lo...)
			t.keep(n)
		}
		return
	}
	t.tryPoint(n.lo)
}

// tryPoint takes a point that may be better than what is known, if Accept does. Where the
// use is to be least it is only noted that there is one.
func (t *tree) tryPoint(s mip.Steps) {
	p := t.at(s)
	if t.goal.LeastUse {
		if t.near == nil && t.cost(s) <= t.goal.Cap && !t.barred(s) && t.least(&p) <= t.goal.MostUse && t.accepts(s) {
			t.near = append(mip.Steps(nil), s...)
		}
		return
	}
	if c := t.cost(s); c < t.best-margin/2*math.Abs(t.best) && !t.barred(s) && t.least(&p) <= t.goal.Use && t.accepts(s) {
		t.best, t.steps = c, append(mip.Steps(nil), s...)
	}
}

func (t *tree) accepts(s mip.Steps) bool {
	if t.opt.Accept == nil {
		return true
	}
	key := s.Key()
	no, is := t.refused[key]
	if !is {
		no = !t.opt.Accept(s)
		t.refused[key] = no
	}
	return !no
}

// least is the smallest use that a point may have by what its rows stand for; +Inf where
// it breaks another limit.
func (t *tree) least(p *point) float64 {
	loose := t.Loose(p.steps, p.steps)
	var worst float64
	for i := range t.Limits {
		r := t.Limits[i].Radius
		s := t.share(i, p.rows)
		if loose != nil {
			s -= loose[i] / r
		}
		if t.Limits[i].Shared {
			worst = math.Max(worst, s)
		} else if s > 1+slack {
			return math.Inf(1)
		}
	}
	return worst
}

// offerNear offers the point nearest to a box's optimum.
func (t *tree) offerNear(n *node) {
	if n.x == nil {
		return
	}
	s := make(mip.Steps, len(n.x))
	for j, x := range n.x {
		s[j] = t.nearest(j, x, n.lo[j], n.hi[j])
	}
	t.tryPoint(s)
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

// A weight is a witness weighed over a box, in floating point.
type weight struct {
	t       *tree
	price   float64
	slope   []float64 // y of each variable
	least   []float64 // of each variable's own term
	total   float64   // less what the claim costs; with rounding off
	bound   float64   // of the goal, in the box; -Inf: none
	off     float64   // what being loose takes off the total
	loss    float64   // what being loose takes off the bound
	loosest float64   // largest share of a limit weighed that it is loose by
	loosens []float64 // of each variable: how much of that an mm of its range makes, about
}

// weigh weighs a witness over a box with the limits as loose as there; the claim is that
// nothing is better than the best. Without a witness it says nothing.
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
	out.price = w.Price
	var sum, size, shared float64
	pulls := make([]float64, len(t.Limits))
	for i := range t.Limits {
		l := &t.Limits[i]
		u := w.Pull[t.rowStart[i]:t.rowStart[i+1]]
		for r, v := range u {
			if v == 0 {
				continue
			}
			sum += v * l.Rows[r].Constant
			size += math.Abs(v * l.Rows[r].Constant)
			pulls[i] = math.Hypot(pulls[i], v)
			for _, term := range l.Rows[r].Terms {
				out.slope[term.Var] += v * term.Coefficient
			}
		}
		if pulls[i] == 0 {
			continue
		}
		radius := pulls[i] * l.Radius
		if l.Shared {
			shared += radius
			radius *= claim.Use
		}
		sum -= radius
		size += radius
		loose := l.Loose(most)
		out.loosest = math.Max(out.loosest, loose/l.Radius)
		out.loss += pulls[i] * loose
	}
	for j, v := range t.Vars {
		own := func(n int) float64 {
			return term(v, out.slope[j], n) + (w.Price-1)*v.Weight*v.Step*math.Abs(float64(n))
		}
		out.least[j] = math.Min(own(lo[j]), own(hi[j]))
		if lo[j] < 0 && hi[j] > 0 {
			out.least[j] = math.Min(out.least[j], 0)
		}
		sum += out.least[j]
		size += math.Abs(out.least[j])
	}
	sum += w.Price * t.sure(lo, hi)
	out.off = out.loss
	sum -= out.loss + rounding*size
	switch {
	case t.goal.LeastUse && shared > 0:
		capped := 0.0
		if w.Price > 0 {
			capped = w.Price * t.goal.Cap
		}
		out.bound = claim.Use + (sum-capped)/shared
		out.loss /= shared
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

// sure is what a box costs for touching blocks that cannot stay as they are.
func (t *tree) sure(lo, hi mip.Steps) float64 {
	var sum float64
	for b, touch := range t.FixedCost {
		for j := t.first[b]; j < t.first[b+1]; j++ {
			if lo[j] > 0 || hi[j] < 0 {
				sum += touch
				break
			}
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
		up, down := (w.price*v[j].Weight+w.slope[j])*v[j].Step, (w.price*v[j].Weight-w.slope[j])*v[j].Step
		if left >= 0 {
			hi[j] = atMost(hi[j], left, up)
			lo[j] = -atMost(-lo[j], left, down)
			continue
		}
		if up < 0 {
			lo[j] = max(lo[j], int(math.Ceil(left/up-slack)))
		}
		if down < 0 {
			hi[j] = min(hi[j], -int(math.Ceil(left/down-slack)))
		}
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
