package bnb

import (
	"cmp"
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// The lowest use of a very long chain is about that of the few neighbouring blocks that have the highest by themselves,
// with the limits on them alone: what is further away can go along with them. So boxes of the whole chain, which hardly
// bound it, need not be split, neither for the use nor to show that there is no point.

const (
	// stretch is how many blocks are looked at by themselves at a time, each in two stretches.
	stretch = 5
	// lookPrograms are how many programs a stretch is given at first, and stretchPrograms one that seems to have the
	// highest use.
	lookPrograms, stretchPrograms = 30, 200
	// stretchWork is how many steps all walks of a stretch may go through.
	stretchWork = 1_000_000
	// approaches are how often a point is looked for between a bound on the use and the best that is known.
	approaches = 6
	// layPrograms are how many programs that may take before it gives up.
	layPrograms = 50
	// approached is how near, as a share of a limit, a point is near enough: less than any reading shows.
	approached = 0.005
)

// aboveLow are the shares above a bound on the use at which a point is looked for where there is none hardly above it.
var aboveLow = [...]float64{0.02, 0.08}

// A stretched is a bound on the use by a stretch of the chain.
type stretched struct {
	bound float64 // -Inf: none; +Inf: no point is within the most that is wanted
	by    *certify.Stretch
}

// lays says whether points of a low use are to be laid along the chain: not where a cap on the cost leaves little but
// what is known.
func (t *tree) lays() bool {
	return len(t.first)-1 > VeryLong && !t.part && !t.walking &&
		!(t.goal.LeastUse && t.steps != nil && t.cost(t.steps) > t.goal.Cap/poor)
}

// farOff says whether the best point of a long chain is far above a bound on the use: boxes would hardly bring it down.
func (t *tree) farOff(low float64) bool {
	const far = 0.1
	return len(t.first)-1 > short && t.best > low*(1+far)+approached
}

// stretches says whether the chain is to be bounded by stretches of it: not where limits may yet be taken in.
func (t *tree) stretches() bool { return t.lays() && t.reserve == nil }

// byStretches bounds the use by the stretch that has the highest, of points within a use at most. A stretch that has a
// point within enough, or hardly above what another one has shown already, says nothing: all are looked at first, and
// those that seem to have the highest are searched.
func (t *tree) byStretches(most, enough float64) stretched {
	looks := t.lookAtStretches(most, enough)
	out := stretched{bound: math.Inf(-1)}
	for _, l := range looks {
		out.take(l)
	}
	slices.SortStableFunc(looks, func(a, b looked) int {
		return cmp.Compare(b.value(), a.value())
	})
	for _, l := range looks {
		enough := math.Max(enough, out.bound)
		if l.value() <= enough || l.value()-out.bound <= t.opt.Near || math.IsInf(out.bound, 1) || t.stopped() {
			break
		}
		if l.Status == Cut {
			t.searchStretch(&l, most, Options{Solves: stretchPrograms, Enough: enough})
			t.solves += l.Solves
			out.take(l)
		}
	}
	return out
}

// take takes what a stretch has proven, where it is more than what is known.
func (s *stretched) take(l looked) {
	if l.Proof != nil && l.Bound > s.bound {
		*s = stretched{l.Bound, &certify.Stretch{From: l.from, To: l.to, Proof: l.Proof}}
	}
}

// A looked is what the search of a stretch, the blocks from..to-1, came to.
type looked struct {
	from, to int
	Result
}

// value is the lowest use that is known of a stretch; +Inf: none is.
func (l *looked) value() float64 {
	if l.Steps == nil {
		return math.Inf(1)
	}
	return l.Value
}

// lookAtStretches searches every stretch a little.
func (t *tree) lookAtStretches(most, enough float64) []looked {
	var out []looked
	blocks := len(t.first) - 1
	for at := 0; at < blocks-stretch/2; at += stretch {
		for _, from := range [2]int{at, at + stretch/2} {
			out = append(out, looked{from: from, to: min(from+stretch, blocks)})
		}
	}
	sideBySide(len(out), func(n int) {
		if !t.stopped() {
			t.searchStretch(&out[n], most, Options{Solves: lookPrograms, Enough: enough})
		}
	})
	for _, l := range out {
		t.solves += l.Solves
	}
	return out
}

// searchStretch goes on with the search of a stretch.
func (t *tree) searchStretch(l *looked, most float64, opt Options) {
	p := t.Problem.Part(l.from, l.to, make([]float64, len(t.constant)), nil)
	if opt.Gap = t.opt.Gap; l.Steps != nil {
		opt.Start = []mip.Steps{l.Steps}
	}
	goal := mip.Goal{LeastUse: true, MostUse: most, Cap: math.Inf(1)}
	w := treeOf(t.ctx, p, nil, goal, opt)
	w.walkWork = stretchWork
	l.Result = w.run()
	l.Solves = t.alike(l.Solves, p)
}

// byHorizon bounds the use by stretches and looks for points near that bound; where a use is enough, first for one at
// that.
func (t *tree) byHorizon() {
	if t.opt.Enough > 0 && t.best > t.opt.Enough {
		t.lay(t.opt.Enough-fineUse, math.MaxInt)
	}
	if t.best > t.opt.Enough {
		if t.stretches() {
			t.stretched = t.byStretches(t.goal.MostUse, 0)
		}
		t.approach(max(0, t.open[0].bound, t.stretched.bound))
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

// approach looks for points of a lower use than the best: near enough to a bound, then at uses further and further
// above it, and then between the last two.
func (t *tree) approach(low float64) {
	high := math.Min(t.best, t.goal.MostUse)
	near := math.Max(approached, t.opt.Near)
	first := low + near
	for n := 0; n < approaches && high-low > math.Max(t.opt.Gap*high, near) && !t.stopped(); n++ {
		use := (low + high) / 2
		switch {
		case n == 0:
			use = math.Min(use, first)
		case n <= len(aboveLow):
			use = math.Min(use, math.Max(first, low*(1+aboveLow[n-1])))
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
