package search

import "leastmove/optimize/lattice"

const (
	// window is how many neighbouring blocks are searched at a time with all
	// others left as they are, in chains of more than twice as many.
	window = 4
	// look is how many programs a window is given.
	look = 60
)

// mend searches the chain window by window for something better than the best
// point, as long as that has changed: what is far apart along a long chain has
// little to do with each other.
func (t *tree) mend() {
	blocks := len(t.first) - 1
	if blocks <= 2*window || t.goal.LeastUse || t.steps == nil || t.best == t.mended || t.solves < patience {
		return
	}
	for first := 0; first < blocks && !t.stopped(); first += window / 2 {
		last := min(first+window, blocks)
		lo, hi := append(lattice.Steps(nil), t.steps...), append(lattice.Steps(nil), t.steps...)
		free := 0
		for j := t.first[first]; j < t.first[last]; j++ {
			lo[j], hi[j] = t.lo[j], t.hi[j]
			free++
		}
		w := t.part(lo, hi, Options{Gap: t.opt.Gap, Solves: look, Accept: t.opt.Accept, Adds: t.opt.Adds})
		w.best, w.steps, w.refused = t.best, t.steps, t.refused
		w.run()
		t.best, t.steps = w.best, w.steps
		// A program of a few blocks is so much less work.
		t.solves += 1 + w.solves*free/len(t.Vars)
	}
	t.mended = t.best
}
