package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// Whether there is a point within a use is far less work than what the lowest use is: boxes without one are closed by
// tangents, and a box either has one or not. So once a search of the lowest use has gone on for a while it asks that
// between what it has proven and what it has found.

const (
	// probeAfter is how many programs a search of the lowest use solves before the first such question; after that they
	// come each time it has solved as many again.
	probeAfter = 120
	// perSolve is how many programs of such a question take about as long as one of the lowest use.
	perSolve = 8
)

// A probed is a use below which it is proven that there is no point.
type probed struct {
	bound float64 // -Inf: none
	proof *certify.Proof
}

// probes says whether it is time to ask.
func (t *tree) probes() bool {
	return t.goal.LeastUse && t.steps != nil && !t.part && !t.walking && t.reserve == nil && math.IsInf(t.goal.Cap, 1) &&
		len(t.Vars) <= mostLinear && t.solves >= max(probeAfter, 2*t.asked) && t.solves < t.opt.Solves
}

// probe asks half way between a bound on the use and the best there is, as long as that is answered.
func (t *tree) probe(low float64) {
	opt := Options{Gap: 1, Accept: t.opt.Accept, Adds: t.opt.Adds}
	most := t.solves
	for high := t.best; low < t.target() && t.solves < t.opt.Solves && !t.stopped(); high = t.best {
		use := (math.Max(low, 0) + high) / 2
		opt.Solves = perSolve * min(most, t.opt.Solves-t.solves)
		r := treeOf(t.ctx, t.Problem, nil, mip.Goal{Use: use}, opt).run()
		t.solves += 1 + r.Solves/perSolve
		switch {
		case r.Steps != nil:
			p := t.at(r.Steps)
			t.offer(&p)
			if t.polish(p, t.lo, t.hi); t.best >= high {
				return
			}
		case r.Status == Impossible:
			low = use
			t.probed = probed{use, r.Proof}
		default:
			return
		}
	}
}
