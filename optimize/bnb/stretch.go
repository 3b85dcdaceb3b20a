package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// The lowest use of a very long chain is about that of the few neighbouring blocks that have the highest by themselves,
// with the limits on them alone: what is further away can go along with them. So boxes of the whole chain, which hardly
// bound it, need not be split, neither for the use nor to show that there is no point.

const (
	// stretch is how many blocks are looked at by themselves at a time, each in two stretches.
	stretch = 5
	// stretchPrograms are how many programs a stretch is given.
	stretchPrograms = 200
	// approaches are how often a point is looked for between a bound on the use and the best that is known.
	approaches = 6
	// layPrograms are how many programs that may take before it gives up.
	layPrograms = 50
	// approached is how near, as a share of a limit, a point is near enough: less than any reading shows.
	approached = 0.005
)

// aboveLow are the shares above a bound on the use at which a point is looked for first.
var aboveLow = [...]float64{0.005, 0.02, 0.08}

// A stretched is a bound on the use by a stretch of the chain.
type stretched struct {
	bound float64 // -Inf: none; +Inf: no point is within the most that is wanted
	by    *certify.Stretch
}

// stretches says whether the chain is to be bounded by stretches of it: not where a cap on the cost leaves little but
// what is known.
func (t *tree) stretches() bool {
	return len(t.first)-1 > veryLong && !t.part && !t.walking && t.reserve == nil &&
		!(t.goal.LeastUse && t.steps != nil && t.cost(t.steps) > t.goal.Cap/poor)
}

// byStretches bounds the use by the stretch that has the highest, of points within a use at most. A stretch that has a
// point within enough, or within what another one has shown already, says nothing.
func (t *tree) byStretches(most, enough float64) stretched {
	out := stretched{bound: math.Inf(-1)}
	goal := mip.Goal{LeastUse: true, MostUse: most, Cap: math.Inf(1)}
	blocks := len(t.first) - 1
	none := make([]float64, len(t.constant))
	for from := 0; from < blocks-stretch/2 && !math.IsInf(out.bound, 1) && !t.stopped(); from += stretch {
		var found [2]Result
		ends := func(n int) (first, last int) { return from + n*stretch/2, min(from+n*stretch/2+stretch, blocks) }
		sideBySide(len(found), func(n int) {
			first, last := ends(n)
			p := t.Problem.Part(first, last, none, nil)
			opt := Options{Gap: t.opt.Gap, Solves: stretchPrograms, Enough: math.Max(enough, out.bound)}
			found[n] = treeOf(t.ctx, p, nil, goal, opt).run()
			found[n].Solves = t.alike(found[n].Solves, p)
		})
		for n, r := range found {
			if t.solves += r.Solves; r.Proof != nil && r.Bound > out.bound {
				first, last := ends(n)
				out = stretched{r.Bound, &certify.Stretch{From: first, To: last, Proof: r.Proof}}
			}
		}
	}
	return out
}

// byHorizon bounds the use by stretches and looks for points near that bound; where a use is enough, first for one at
// that.
func (t *tree) byHorizon() {
	if t.opt.Enough > 0 && t.best > t.opt.Enough {
		t.lay(t.opt.Enough-fineUse, math.MaxInt)
	}
	if t.best > t.opt.Enough {
		t.stretched = t.byStretches(t.goal.MostUse, 0)
		t.approach(math.Max(0, t.stretched.bound))
	}
}

// isNear says whether the best point is near the bound by stretches: boxes would hardly bring them closer.
func (t *tree) isNear() bool {
	const near = 0.05
	return t.stretched.by != nil && t.steps != nil && t.best <= t.stretched.bound*(1+near)
}

// lay looks for a point at a use by a rolling horizon that gives up after some programs where it finds no way on.
func (t *tree) lay(use float64, programs int) {
	w := newTree(t.ctx, t.whole(), mip.Goal{Use: use}, Options{Gap: t.opt.Gap, Accept: t.opt.Accept})
	w.rollHorizon(programs)
	if t.solves += w.solves; w.steps != nil {
		p := t.at(w.steps)
		t.offer(&p)
	}
}

// approach looks for points of a lower use than the best at uses further and further above a bound, and then between
// the last two.
func (t *tree) approach(low float64) {
	high := math.Min(t.best, t.goal.MostUse)
	for n := 0; n < approaches && high-low > math.Max(t.opt.Gap*high, approached) && !t.stopped(); n++ {
		use := (low + high) / 2
		if n < len(aboveLow) {
			use = math.Min(use, low*(1+aboveLow[n]))
		}
		if t.lay(use, layPrograms); t.best < high {
			high = t.best
		} else {
			low = use
		}
	}
}

// firmStretch makes a bound by a stretch hold for what curved rows stand for.
func (t *tree) firmStretch(r *Result) partition {
	n := r.Proof.Stretch
	if n == nil {
		return partition{bound: math.Inf(-1)}
	}
	part := Result{Status: r.Status, Value: r.Value, Bound: r.Bound, Proof: n.Proof, Goal: mip.Goal{
		LeastUse: true, MostUse: r.Goal.Use, Cap: math.Inf(1)}}
	if r.Goal.LeastUse {
		part.Goal.MostUse = r.Goal.MostUse
	}
	if r.Steps != nil {
		first, last := t.Problem.Blocks(n.From, n.To)
		part.Steps = r.Steps[first:last]
	}
	p := t.Problem.Part(n.From, n.To, make([]float64, len(t.constant)), nil)
	f := Firm(t.ctx, p, part, Options{Solves: stretchPrograms})
	if t.solves += t.alike(f.Solves, p); f.Proof == nil || f.Bound < fineUse {
		return partition{bound: math.Inf(-1)}
	}
	return partition{f.Bound, &certify.Proof{Stretch: &certify.Stretch{From: n.From, To: n.To, Proof: f.Proof}}}
}
