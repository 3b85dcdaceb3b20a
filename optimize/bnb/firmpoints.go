package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

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
			if !t.beside {
				t.near = append(mip.Steps(nil), n.lo...)
			}
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
		if !t.beside && t.near == nil && t.cost(s) <= t.goal.Cap && !t.barred(s) &&
			t.least(&p) <= t.goal.MostUse && t.accepts(s) {
			t.near = append(mip.Steps(nil), s...)
		}
		return
	}
	if c := t.cost(s); c < t.floor() && !t.barred(s) && t.least(&p) <= t.goal.Use && t.accepts(s) {
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
