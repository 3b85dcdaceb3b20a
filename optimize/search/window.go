package search

import "leastmove/optimize/lattice"

const (
	// window is how many neighbouring blocks are searched at a time, in chains of
	// more than twice as many.
	window = 6
	settled = 3
	// look is how many programs a window is given.
	look = 100
)

// long says whether the chain is searched window by window: what is far apart
// along it has little to do with each other.
func (t *tree) long() bool { return len(t.first)-1 > 8 && !t.goal.LeastUse }

// lay finds a first point for a long chain: from its start on, window by window,
// each as if the chain ended with it, and keeps the first blocks of each. Where
// a window has no point it begins further back.
func (t *tree) lay() {
	if !t.long() || t.steps != nil {
		return
	}
	blocks := len(t.first) - 1
	s := make(lattice.Steps, len(t.Vars))
	back := 0
	for from := 0; from < blocks && !t.stopped(); {
		to := min(from+window+back, blocks)
		w := newTree(t.ctx, t.piece(s, from, to, false), t.goal, Options{Gap: 0.005, Solves: look})
		w.run()
		t.count(w)
		switch {
		case w.steps == nil && (from == 0 || back > window):
			return
		case w.steps == nil:
			back += 2
			from = max(0, from-back)
			continue
		}
		copy(s[t.first[from]:], w.steps)
		if to == blocks {
			break
		}
		from = to - window + settled
		back = max(0, back-1)
	}
	p := t.at(s)
	t.offer(&p)
}

// mend searches the chain window by window for something better than the best
// point, as long as that has changed.
func (t *tree) mend() {
	if !t.long() || t.steps == nil {
		return
	}
	blocks := len(t.first) - 1
	for shift := 0; t.best != t.mended; shift = window/2 - shift {
		t.mended = t.best
		for from := -shift; from < blocks && !t.stopped(); from += window {
			t.renew(max(0, from), min(from+window, blocks))
		}
	}
}

// renew searches the blocks from..to-1 with all others left as they are.
func (t *tree) renew(from, to int) {
	first, last := t.first[from], t.first[to]
	whole := func(s lattice.Steps) lattice.Steps {
		all := append(lattice.Steps(nil), t.steps...)
		copy(all[first:last], s)
		return all
	}
	opt := Options{Gap: t.opt.Gap, Solves: look, Start: []lattice.Steps{t.steps[first:last]}}
	if t.opt.Accept != nil {
		opt.Accept = func(s lattice.Steps) bool { return t.opt.Accept(whole(s)) }
	}
	w := newTree(t.ctx, t.piece(t.steps, from, to, true), t.goal, opt)
	w.run()
	t.count(w)
	if w.steps != nil {
		p := t.at(whole(w.steps))
		t.offer(&p)
	}
}

// count adds the work of a window: a program of a few blocks is so much less.
func (t *tree) count(w *tree) { t.solves += 1 + w.solves*len(w.Vars)/len(t.Vars) }

// piece is the problem of the blocks from..to-1 with those before them, and where
// the end is tied those after them, left at the steps.
func (t *tree) piece(s lattice.Steps, from, to int, tied bool) *lattice.Problem {
	first, last := t.first[from], t.first[to]
	p := &lattice.Problem{Vars: append([]lattice.Var(nil), t.Vars[first:last]...)}
	for j := range p.Vars {
		p.Vars[j].Block -= from
	}
	if len(t.Touch) > 0 {
		p.Touch = t.Touch[from:to]
	}
	for i := range t.Limits {
		lim := t.Limits[i]
		in, beyond := false, false
		rows := make([]lattice.Row, len(lim.Rows))
		for k, r := range lim.Rows {
			rows[k].Constant = r.Constant
			for _, term := range r.Terms {
				switch j := term.Var; {
				case j >= first && j < last:
					in = true
					rows[k].Terms = append(rows[k].Terms, lattice.Term{Var: j - first, Coefficient: term.Coefficient})
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
