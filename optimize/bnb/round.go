package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// round looks for a point near a box's optimum: the nearest one each time, and
// further afield now and then, more often while there is none.
func (t *tree) round(n *node, rounds int) {
	if n.x == nil {
		return
	}
	s := make(mip.Steps, len(n.x))
	for j, x := range n.x {
		s[j] = t.nearest(j, x, n.lo[j], n.hi[j])
	}
	p := t.at(s)
	t.offer(&p)
	if t.long() && t.steps != nil {
		t.mend()
		return
	}
	if t.opt.Proof && rounds > 0 {
		return
	}
	none, seldom := math.IsInf(t.best, 1), 1
	if t.solves >= patience {
		seldom = 4
	}
	if rounds%(16*seldom) == 0 || none && rounds%(4*seldom) == 0 {
		t.polish(p, n.lo, n.hi)
	}
	if rounds%64 == 0 || none && rounds%(4*seldom) == 0 {
		t.dive(n)
	}
	t.stuck(n.bound)
	t.breakout(s, n.bound)
}

// stuck serves where the search has long been without a plan, or without one that is near the bound: it looks for any
// plan, now and then and with ever more programs, and betters what there is by parts of the chain. Where breakouts have
// tries of their own they do that.
func (t *tree) stuck(bound float64) {
	switch {
	case !t.total() || t.opt.Tries > 0 || t.solves < patience:
	case t.aimless() && t.solves >= 4*t.sought:
		t.sought = t.solves
		t.seek(min(max(look, t.solves/4), t.opt.Solves-t.solves))
	case t.steps != nil && len(t.first) > 2 && t.best-bound > gained*t.best:
		t.mend()
	}
}

// aimless says whether the search has no plan, nor was given any to begin with, and is to look for one by way of the
// lowest use.
func (t *tree) aimless() bool {
	return t.total() && t.steps == nil && !t.opt.Proof && len(t.opt.Start) == 0 && !t.stopped()
}

// nearest is the step in lo..hi nearest to x at which variable j may be.
func (t *tree) nearest(j int, x float64, lo, hi int) int {
	below, above := t.Vars[j].Around(x)
	at := below
	if x-float64(below) > float64(above)-x {
		at = above
	}
	return min(max(at, lo), hi)
}

// polish goes downhill from a point, within the box it came from and then
// anywhere.
func (t *tree) polish(p point, lo, hi mip.Steps) {
	for n := 0; ; n++ {
		w := t.localSearch(p, lo, hi)
		w.down()
		t.offer(&w.point)
		w.lo, w.hi = t.lo, t.hi
		w.down()
		t.offer(&w.point)
		if n == generations || !t.grow() {
			return
		}
		p = t.at(w.steps)
	}
}

// offer takes a point that is better than the best so far. It says whether it
// was turned down in spite of that.
func (t *tree) offer(p *point) (refused bool) {
	if len(p.rows) != len(t.constant) { // of before limits were taken in
		*p = t.at(p.steps)
	}
	v := t.value(p)
	if t.reserve != nil && v <= t.best {
		v = t.ofAll(p.steps, v)
	}
	if v > t.best || v == t.best && (t.steps == nil || t.squares(p.steps) >= t.squares(t.steps)) {
		return false
	}
	if t.opt.Accept != nil {
		key := p.steps.Key()
		if !t.refused[key] {
			t.refused[key] = !t.opt.Accept(p.steps)
		}
		if t.refused[key] {
			return true
		}
	}
	t.best, t.steps = v, append(mip.Steps(nil), p.steps...)
	return false
}

// ofAll is the value of a point by all limits, those left out too, from that by the limits
// that are searched with. Those that the point breaks are to be taken in.
func (t *tree) ofAll(s mip.Steps, v float64) float64 {
	all := t.reserve.all.at(s)
	use := t.goal.Use
	if t.goal.LeastUse {
		use = math.Max(v, fineUse)
	}
	if !t.reserve.judge(all.rows, use, 2*slack, nil) {
		return v
	}
	if !t.goal.LeastUse {
		return math.Inf(1)
	}
	if use = t.reserve.all.use(&all); use > t.goal.MostUse {
		return math.Inf(1)
	}
	return use
}

// clip brings a point into the box, and each variable to where it may be.
func (t *tree) clip(s mip.Steps) mip.Steps {
	out := append(mip.Steps(nil), s...)
	for j := range out {
		out[j] = t.nearest(j, float64(out[j]), t.grid.lo[j], t.grid.hi[j])
	}
	return out
}

// fixed bounds a box with one variable fixed.
func (t *tree) fixed(lo, hi mip.Steps, j, k int) relaxation {
	lo, hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
	lo[j], hi[j] = k, k
	t.solves++
	return t.bound(t.fixing, lo, hi)
}

// dive fixes variables one after another at whole steps, those nearest to one
// first, solving anew in between, until a point is reached or none is left.
func (t *tree) dive(n *node) {
	lo, hi, x := append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...), n.x
	for x != nil && t.solves < t.opt.Solves && !t.stopped() {
		fixed, left := 0, 0
		nearest, distance := -1, 1.0
		for j := range x {
			if lo[j] == hi[j] {
				continue
			}
			k := t.nearest(j, x[j], lo[j], hi[j])
			if d := math.Abs(x[j] - float64(k)); d < whole {
				lo[j], hi[j] = k, k
				fixed++
			} else {
				left++
				if nearest < 0 || d < distance {
					nearest, distance = j, d
				}
			}
		}
		if left == 0 {
			p := t.at(lo)
			t.offer(&p)
			t.polish(p, t.lo, t.hi)
			return
		}
		k := t.nearest(nearest, x[nearest], lo[nearest], hi[nearest])
		r := t.fixed(lo, hi, nearest, k)
		if r.x == nil {
			// The other neighbour, once.
			on := -1
			if float64(k) < x[nearest] {
				on = 1
			}
			var ok bool
			if k, ok = t.Vars[nearest].Hop(k, on); !ok || k < lo[nearest] || k > hi[nearest] {
				return
			}
			r = t.fixed(lo, hi, nearest, k)
		}
		lo, hi, x = r.lo, r.hi, r.x
	}
}
