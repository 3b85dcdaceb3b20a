package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// A low use is mostly whole steps: without them there is hardly a use at all, so that bounds of boxes begin near 0 and
// rise with each of the very many ways to come down to whole steps. In a chain all of these can be gone through for the
// variables of one way (mip.Problem.Walk): at a low use few steps of a block go with those of its neighbour.

const (
	// walkAfter is how many programs a search of the lowest use solves before the chain is walked: by then most have
	// ended.
	walkAfter = 60
	// walkWork is how many steps all walks of a search may go through, and walkTest one of them.
	walkWork, walkTest = 4_000_000, 300_000
	// walkPrograms is how many programs go into the other variables beside what a walk has found, at most.
	walkPrograms = 60
)

// walkPaths are the shares beyond the lowest use of a walk at which a point is looked for along it.
var walkPaths = [...]float64{0, 0.01, 0.03, 0.1}

// A walked is a bound on the use by walks along the chain.
type walked struct {
	bound float64 // -Inf: none
	way   int
	at    mip.Steps // what a walk came to at about that use; nil: nothing
}

// walks says whether the chain of this search is worth walking.
func (t *tree) walks() bool {
	return t.goal.LeastUse && !t.part && !t.walking && t.best > t.opt.Enough && math.IsInf(t.goal.Cap, 1)
}

// outBy is the share of the limits beyond a use up to which walks are to leave no point before they end a search of the
// cost there: curved rows are off by less, or nothing would be proven of what they stand for.
const outBy = 0.02

// walkedOut is a way by which a walk shows that there is no point at the use of a search of the cost, nor somewhat
// beyond; 0: none does.
func (t *tree) walkedOut() int {
	work := t.walkWork
	for way := 1; way <= t.ways(); way++ {
		if t.walkAt(way, t.goal.Use+outBy, t.grid.from, t.grid.to, &work).None {
			return way
		}
	}
	return 0
}

// walk bounds the use from a lower bound on by walks over a box, and looks for a point at about that use.
func (t *tree) walk(lower float64, lo, hi mip.Steps) *walked {
	work := t.walkWork
	most := math.Min(t.best, t.goal.MostUse)
	out := t.lowest(lower, most, lo, hi, &work)
	if out.way == 0 {
		return &out
	}
	for n, more := range walkPaths {
		at := out.at
		if n > 0 {
			at = t.walkAt(out.way, out.bound*(1+more), lo, hi, &work).Steps
		}
		if at != nil {
			t.along(out.way, at)
		}
		if out.bound >= t.target() || t.stopped() {
			break
		}
	}
	return &out
}

// lowest is the best bound on the use by walks, between a lower bound and a use that is too high for it.
func (t *tree) lowest(lower, most float64, lo, hi mip.Steps, work *int) walked {
	out := walked{bound: math.Inf(-1)}
	if math.IsInf(most, 1) {
		return out
	}
	least := math.Max(lower, 0)
	gap := math.Max(t.opt.Gap/4*most, fineUse)
	for way := 1; way <= t.ways(); way++ {
		var at mip.Steps
		none := func(use float64) bool {
			w := t.walkAt(way, use, lo, hi, work)
			if w.Steps != nil {
				at = w.Steps
			}
			return w.None
		}
		// Else it is no better than what is known.
		if first := least + 2*gap; most-least > gap && *work > 0 && !t.stopped() && none(first) {
			// What is known is often the lowest.
			if least = math.Min(most-gap, t.target()); least <= first || !none(least) {
				least = t.highest(first, math.Max(first, least), gap, work, none)
			}
			out = walked{least, way, at}
		}
	}
	return out
}

// highest is the highest use between two of which a walk says that there is none, about.
func (t *tree) highest(low, high, about float64, work *int, none func(use float64) bool) float64 {
	for high-low > about && *work > 0 && !t.stopped() {
		if use := (low + high) / 2; none(use) {
			low = use
		} else {
			high = use
		}
	}
	return low
}

// walkAt walks the chain at a use.
func (t *tree) walkAt(way int, use float64, lo, hi mip.Steps, work *int) mip.Walked {
	lo, hi = slices.Clone(lo), slices.Clone(hi)
	if !t.Narrow(lo, hi, use, 0) {
		return mip.Walked{None: true}
	}
	test := min(*work, walkTest)
	left := test
	w := t.Walk(way, lo, hi, use, &left)
	*work -= test - max(0, left)
	return w
}

// ways is how many ways the variables have.
func (t *tree) ways() int {
	most := 0
	for j := range t.Vars {
		most = max(most, t.Vars[j].Way)
	}
	return most
}

// along looks for a point whose variables of one way are as a walk has them.
func (t *tree) along(way int, at mip.Steps) {
	p := *t.whole()
	p.Vars = slices.Clone(p.Vars)
	for j := range p.Vars {
		if v := &p.Vars[j]; v.Way == way {
			v.Lo, v.Hi = float64(at[j])*v.Step, float64(at[j])*v.Step
		}
	}
	goal := t.goal
	goal.MostUse = math.Min(goal.MostUse, t.best)
	opt := t.opt
	opt.Solves, opt.Tell, opt.Start = min(walkPrograms, t.opt.Solves), nil, nil
	low := newTree(t.ctx, &p, goal, opt)
	low.walking = true
	t.lookBy(low)
}

// firmWalk makes a bound by a walk hold for what curved rows stand for, and says where it is closed in a proof: the
// bound is lower where rows are off.
func (t *tree) firmWalk(r *Result) partition {
	nothing := partition{bound: math.Inf(-1)}
	if r.Proof.Way == 0 || t.goal.LeastUse && !t.walks() {
		return nothing
	}
	// Caps on turns hold by this proof alone, not by what follows where it does not suffice.
	defer func(most []float64) { t.TurnMost = most }(slices.Clone(t.TurnMost))
	lo, hi := slices.Clone(t.lo), slices.Clone(t.hi)
	root := &certify.Proof{}
	work, way := t.walkWork, r.Proof.Way
	none := func(use float64) bool { return t.walkAt(way, use, lo, hi, &work).None }
	closes := func() bool { return none(t.claim(t.best).Use) }
	at, some := t.capped(root, lo, hi, closes)
	if !some {
		return nothing
	}
	at.Way = way
	if closes() {
		return partition{t.best, root}
	}
	if !t.goal.LeastUse {
		return nothing
	}
	return partition{t.highest(0, t.best, nearWalk*t.best, &work, none), root}
}

// nearWalk is how near, as a share of it, the bound of a walk is looked for when it is made firm.
const nearWalk = 0.002
