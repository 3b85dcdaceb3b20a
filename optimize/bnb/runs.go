package bnb

import "math"

// A run moves neighbouring blocks together by as much: every variable of one direction (mip.Var.Way). That changes the
// limits at its two ends and no other of those of two blocks, which steps of single variables do not
// reach where these limits are tight.
type run struct {
	vars []int
	by   []int // steps of each that come to the same
}

// longestRun is the most blocks that a run moves.
const longestRun = 16

// newRuns are the runs of a problem: all blocks, those from each on, and those before each.
func newRuns(l *grid) []run {
	var out []run
	blocks, ways := len(l.first)-1, 0
	for _, v := range l.Vars {
		ways = max(ways, v.Way)
	}
	add := func(way, from, to int) {
		if to-from < 2 || to-from > longestRun {
			return
		}
		if r, ok := l.runOf(way, from, to); ok {
			out = append(out, r)
		}
	}
	for way := 1; way <= ways; way++ {
		for b := range blocks {
			add(way, b, blocks)
			if b > 0 {
				add(way, 0, b)
			}
		}
	}
	return out
}

// runOf is the run of the blocks from one up to another, without it; false where one of them
// can't go that way, or steps have no common multiple that is short.
func (l *grid) runOf(way, from, to int) (run, bool) {
	var out run
	var by float64
	for b := from; b < to; b++ {
		n := len(out.vars)
		for j := l.first[b]; j < l.first[b+1]; j++ {
			if l.Vars[j].Way == way {
				out.vars = append(out.vars, j)
				by = math.Max(by, l.Vars[j].Step)
			}
		}
		if len(out.vars) == n {
			return run{}, false
		}
	}
	const most = 10 // of the longest step
	for times := 1; times <= most; times++ {
		out.by = out.by[:0]
		for _, j := range out.vars {
			n := float64(times) * by / l.Vars[j].Step
			if math.Abs(n-math.Round(n)) > slack*n {
				break
			}
			out.by = append(out.by, int(math.Round(n)))
		}
		if len(out.by) == len(out.vars) {
			return out, true
		}
	}
	return run{}, false
}

// together takes runs downhill.
func (w *localSearch) together() bool {
	improved := false
	for i := range w.runs {
		for _, n := range [2]int{1, -1} {
			for by := n; w.left > 0 && w.whole(&w.runs[i], by); by *= 2 {
				improved = true
			}
		}
	}
	return improved
}

// whole moves a run so many times its steps, if that is better.
func (w *localSearch) whole(r *run, times int) bool {
	for k, j := range r.vars {
		n := w.steps[j] + times*r.by[k]
		if n < w.lo[j] || n > w.hi[j] || w.Vars[j].Bars(n) {
			return false
		}
	}
	for k, j := range r.vars {
		w.move(j, times*r.by[k])
	}
	if w.better() {
		return true
	}
	for k, j := range r.vars {
		w.move(j, -times*r.by[k])
	}
	return false
}
