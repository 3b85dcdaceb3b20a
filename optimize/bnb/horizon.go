package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/mip"
)

const (
	// short is how many blocks are searched as one: what is further apart along a
	// chain has little to do with each other.
	short = 8
	// head is how many blocks of a long chain are planned at a time, all but the last
	// for good, and tail how many more are looked at, in steps so many times as
	// fine.
	head, tail, fine = 3, 3, 64
	// VeryLong is how many blocks a chain has beyond which a split hardly raises the bound.
	VeryLong = 16
	// farBack is how many blocks are planned anew at most where there is no way on.
	farBack = 12
	// window is how many neighbouring blocks are searched at a time with all
	// others left as they are, half of the chain at most.
	window = 6
	// look is how many programs a few blocks are given at first, mostLook at most, lookOfLong of a very long chain.
	look, mostLook, lookOfLong = 100, 1600, 400
	// onBoxes is what boxes of a very long chain are given once its windows have nothing better: programs times
	// variables.
	onBoxes = 600
	// nearBy is how many steps around a point all blocks are searched with the first look.
	nearBy = 3
)

// total says whether the search is for the least cost of a whole chain.
func (t *tree) total() bool { return !t.goal.LeastUse && !t.part }

// long says whether the chain is searched by a rolling horizon.
func (t *tree) long() bool { return len(t.first)-1 > short && t.total() }

// veryLong says whether the chain is too long for boxes to bound it.
func (t *tree) veryLong() bool { return len(t.first)-1 > VeryLong && t.total() }

// rests says whether a search may end with a plan and a bound as they are.
func (t *tree) rests() bool {
	return t.veryLong() && t.opt.Windows > 0 && t.steps != nil && t.exhausted() &&
		(t.solves-t.mending-t.begun)*len(t.Vars) >= onBoxes
}

// search searches a piece of the chain.
func (t *tree) search(p *mip.Problem, opt Options) *tree {
	w := newTree(t.ctx, p, t.goal, opt)
	w.part, w.ofLong = true, t.early()
	w.run()
	return w
}

// closed says whether the search of a piece has come to its end.
func (t *tree) closed() bool { return len(t.open) == 0 || t.raise(t.open[0].bound) >= t.target() }

// counted counts the programs of a search of a piece.
func (t *tree) counted(w *tree) *tree {
	t.solves += t.alike(w.solves, w.Problem)
	return w
}

// alike is how many programs of the whole chain take as long as some of a piece: each of these is so much less work.
func (t *tree) alike(solves int, piece *mip.Problem) int {
	return 1 + solves*len(piece.Vars)/len(t.Vars)
}

// poor is how many times the bound of the whole chain a point's value is from which on the horizon rolls in spite of
// it.
const poor = 2

// begin finds a first plan for a long chain: by a rolling horizon where none is known that is near the bound, or else
// any point there is.
func (t *tree) begin() {
	if t.best > poor*t.open[0].bound {
		t.rollHorizon(math.MaxInt)
	}
	if t.steps == nil && t.stretches() {
		if s := t.byStretches(t.goal.Use, t.goal.Use); math.IsInf(s.bound, 1) {
			t.stretched = s
			return
		}
	}
	if t.steps == nil {
		t.seek(look)
	}
	if t.steps != nil {
		t.mend()
	}
	for t.veryLong() && t.opt.Windows > 0 && t.steps != nil && !t.exhausted() && !t.stopped() &&
		t.raise(t.open[0].bound) < t.target() {
		t.mend()
	}
	t.begun = t.solves - t.mending
}

// seek looks for any point by way of the lowest use, with so many programs at most.
func (t *tree) seek(solves int) {
	low := newTree(t.ctx, t.whole(), mip.Goal{LeastUse: true, MostUse: t.goal.Use, Cap: math.Inf(1)}, t.opt)
	low.opt.Gap, low.opt.Enough, low.opt.Solves, low.opt.Tell = 1, t.goal.Use, solves, nil
	low.part = t.stretches() // it was bounded by these already
	t.lookBy(low)
}

// lookBy runs another search of the same variables, and goes on from the point that it finds.
func (t *tree) lookBy(low *tree) {
	low.run()
	t.solves += low.solves
	if low.steps != nil {
		p := t.at(low.steps)
		t.offer(&p)
		t.polish(p, t.lo, t.hi)
	}
}

// rollHorizon finds a first point for a long chain: from its start on, a few blocks at a
// time with some more behind them in fine steps, so that they leave room for what
// follows. Where there is no point it begins further back, with more work, as far as so many programs go.
func (t *tree) rollHorizon(programs int) {
	blocks := len(t.first) - 1
	s := make(mip.Steps, len(t.Vars))
	work := look
	for from, to := 0, head; ; {
		p := t.horizonProblem(s, from, min(to+tail, blocks), false)
		for j := range p.Vars {
			if v := &p.Vars[j]; v.Block >= to-from {
				v.Step, v.Only, v.Least = v.Step/fine, nil, 0
			}
		}
		w := t.counted(t.search(p, Options{Gap: 0.005, Solves: work}))
		switch {
		case w.steps != nil:
			copy(s[t.first[from]:t.first[to]], w.steps)
			if to == blocks {
				p := t.at(s)
				t.offer(&p)
				return
			}
			from, to, work = to-1, min(to-1+head, blocks), look
		case from == 0 || to-from > farBack || t.solves >= programs || t.stopped():
			return
		default:
			from, work = max(0, from-2), 2*work
		}
	}
}

// mend searches the chain window by window for something better than the best
// point, at once and again when that has changed, and with more programs to
// windows that begin elsewhere as long as that is a part of all the work.
func (t *tree) mend() {
	switch {
	case t.look == 0:
		t.look = look
	case t.exhausted():
		return
	case t.best == t.mended:
		t.look *= 2
		t.shift++
	}
	before := t.solves
	blocks := len(t.first) - 1
	size := min(window, (blocks+1)/2)
	vain := map[int]mip.Steps{} // by its first block: a window that was searched in vain, with the blocks beside it
	for pass := 0; pass < 2 || t.best < t.mended; pass++ {
		t.mended = t.best
		for _, ats := range t.apart(-(pass%2*size/2+t.shift)%size, size) {
			t.reoptimize(ats, size, vain)
		}
	}
	if !t.long() {
		t.around()
	}
	t.mending += t.solves - before
}

// exhausted says whether windows have nothing better than the best point with as many programs as they are given.
func (t *tree) exhausted() bool {
	if t.look == 0 || t.best != t.mended {
		return false
	}
	if t.veryLong() && t.opt.Windows > 0 {
		return t.look >= lookOfLong || t.mending >= t.opt.Windows
	}
	return t.look >= mostLook || t.sparing()*t.mending > t.solves
}

// apart are the first blocks of the windows of a size, from one on, in groups that are searched side by side: in a very
// long chain every other one, whose blocks have no limits in common, else one after the other.
func (t *tree) apart(from, size int) [][]int {
	var out [][]int
	if t.veryLong() {
		out = make([][]int, 2)
	}
	for n, at := 0, from; at < len(t.first)-1; n, at = n+1, at+size {
		if t.veryLong() {
			out[n%2] = append(out[n%2], at)
		} else {
			out = append(out, []int{at})
		}
	}
	return out
}

// around searches all blocks for something better within a few steps of the best point, more of them the more programs
// a window is given: where few points keep the limits the next is often not in two neighbouring blocks alone.
func (t *tree) around() {
	reach := nearBy * t.look / look
	p := *t.whole()
	p.Vars = append([]mip.Var(nil), p.Vars...)
	for j := range p.Vars {
		v := &p.Vars[j]
		v.Lo = math.Max(v.Lo, v.Step*float64(t.steps[j]-reach))
		v.Hi = math.Min(v.Hi, v.Step*float64(t.steps[j]+reach))
	}
	opt := Options{Gap: t.opt.Gap, Solves: t.look, Start: []mip.Steps{t.steps}, Accept: t.opt.Accept}
	w := t.counted(t.search(&p, opt))
	if w.steps != nil {
		at := t.at(w.steps)
		t.offer(&at)
	}
}

// sparing is the part of all programs that is left to windows, as a divisor: less in a chain that is searched as one.
func (t *tree) sparing() int {
	if t.long() {
		return 2
	}
	return 4
}

// reoptimize searches windows of a size, two at a time, each with all other blocks left as they are. vain has those
// that had nothing better, with the blocks beside them: they are passed over as long as these stay, as are those that
// were searched to their end.
func (t *tree) reoptimize(ats []int, size int, vain map[int]mip.Steps) {
	blocks := len(t.first) - 1
	extent := func(at int) (from, to int) { return max(0, at), min(at+size, blocks) }
	there := func(at int) mip.Steps {
		from, to := extent(at)
		return t.steps[t.first[max(0, from-1)]:t.first[min(to+1, blocks)]]
	}
	ats = slices.DeleteFunc(ats, func(at int) bool {
		return slices.Equal(there(at), vain[at]) || slices.Equal(there(at), t.settled[at])
	})
	was, found := slices.Clone(t.steps), make([]*tree, len(ats))
	sideBySide(len(ats), func(n int) {
		if from, to := extent(ats[n]); !t.stopped() {
			found[n] = t.searchWindow(from, to, was)
		}
	})
	for n, at := range ats {
		w, before := found[n], slices.Clone(there(at))
		if w == nil {
			continue
		}
		from, to := extent(at)
		if t.counted(w); w.steps != nil {
			p := t.at(slices.Concat(t.steps[:t.first[from]], w.steps, t.steps[t.first[to]:]))
			t.offer(&p)
		}
		now := slices.Clone(there(at))
		if slices.Equal(before, now) {
			vain[at] = now
		}
		if w.closed() && slices.Equal(w.steps, t.steps[t.first[from]:t.first[to]]) {
			t.settled[at] = now
		}
	}
}

// searchWindow searches the blocks from..to-1 with all others as some steps have them.
func (t *tree) searchWindow(from, to int, s mip.Steps) *tree {
	first, last := t.first[from], t.first[to]
	opt := Options{Gap: t.opt.Gap, Solves: t.look, Start: []mip.Steps{s[first:last]}}
	if t.veryLong() {
		opt.Gap = min(opt.Gap, defaultGap)
	}
	if t.opt.Accept != nil {
		as := opt.Start[0] // has been taken
		opt.Accept = func(w mip.Steps) bool {
			return slices.Equal(w, as) || t.opt.Accept(slices.Concat(s[:first], w, s[last:]))
		}
	}
	return t.search(t.horizonProblem(s, from, to, true), opt)
}

// horizonProblem is the problem of the blocks from..to-1 with those before them, and where
// the end is tied those after them, left at the steps.
func (t *tree) horizonProblem(s mip.Steps, from, to int, tied bool) *mip.Problem {
	first, last := t.first[from], t.first[to]
	p := &mip.Problem{Vars: append([]mip.Var(nil), t.Vars[first:last]...)}
	for j := range p.Vars {
		p.Vars[j].Block -= from
	}
	if len(t.FixedCost) > 0 {
		p.FixedCost = t.FixedCost[from:to]
	}
	all := t.whole()
	for i := range all.Limits {
		lim := all.Limits[i]
		in, beyond := false, false
		rows := make([]mip.Row, len(lim.Rows))
		for k, r := range lim.Rows {
			rows[k].Constant = r.Constant
			for _, term := range r.Terms {
				switch j := term.Var; {
				case j >= first && j < last:
					in = true
					rows[k].Terms = append(rows[k].Terms, mip.Term{Var: j - first, Coefficient: term.Coefficient})
				default:
					beyond = beyond || j >= last
					rows[k].Constant += term.Coefficient * t.Vars[j].Step * float64(s[j])
				}
			}
		}
		if in && (tied || !beyond) {
			lim.Rows = rows
			p.Limits = append(p.Limits, lim)
		}
	}
	return p
}
