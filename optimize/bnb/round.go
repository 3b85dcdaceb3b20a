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
	none := math.IsInf(t.best, 1)
	if rounds%16 == 0 || none && rounds%4 == 0 {
		t.polish(p, n.lo, n.hi)
	}
	if rounds%64 == 0 || none && rounds%4 == 0 {
		t.dive(n)
	}
	t.breakout(s, n.bound)
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
	w := t.localSearch(p, lo, hi)
	w.down()
	t.offer(&w.point)
	w.lo, w.hi = t.lo, t.hi
	w.down()
	t.offer(&w.point)
}

// offer takes a point that is better than the best so far. It says whether it
// was turned down in spite of that.
func (t *tree) offer(p *point) (refused bool) {
	v := t.value(p)
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
	return t.bound(t.left, lo, hi)
}

// dive fixes variables one after another at whole steps, those nearest to one
// first, solving anew in between, until a point is reached or none is left.
func (t *tree) dive(n *node) {
	lo, hi, x := append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...), n.x
	for x != nil && t.solves < t.opt.Solves {
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
