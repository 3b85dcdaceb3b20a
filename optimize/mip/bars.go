package mip

import (
	"math"
	"slices"
)

// Bars says whether x cannot be at a step: nearer to 0 than Least, yet not 0,
// or not one of Only.
func (v *Var) Bars(n int) bool {
	if v.Only != nil {
		_, found := slices.BinarySearch(v.Only, n)
		return !found
	}
	return n != 0 && n < v.Least && -n < v.Least
}

// Shut brings the ends of a range of steps in from where x cannot be. Where no
// step is left the range that it returns ends before it begins.
func (v *Var) Shut(lo, hi int) (int, int) {
	if v.Only != nil {
		return v.only(lo, hi)
	}
	if m := v.Least; m > 1 {
		switch {
		case lo > 0 && lo < m:
			lo = m
		case lo < 0 && lo > -m:
			lo = 0
		}
		switch {
		case hi < 0 && hi > -m:
			hi = -m
		case hi > 0 && hi < m:
			hi = 0
		}
	}
	return lo, hi
}

// only is Shut among listed steps.
func (v *Var) only(lo, hi int) (int, int) {
	from, _ := slices.BinarySearch(v.Only, lo)
	if from == len(v.Only) || lo > hi || v.Only[from] > hi {
		return max(lo, hi+1), hi
	}
	to, found := slices.BinarySearch(v.Only, hi)
	if !found {
		to--
	}
	return v.Only[from], v.Only[to]
}

// Around are the two steps that x may take on either side of a value in steps,
// below ≤ value < above. Beyond the last step of Only they go on by ones.
func (v *Var) Around(value float64) (below, above int) {
	switch m := v.Least; {
	case v.Only != nil:
		below = int(math.Floor(value))
		at, found := slices.BinarySearch(v.Only, below)
		if found {
			at++
		}
		// Only[at] is the first step above the value.
		switch {
		case at == 0:
			return below, v.Only[0]
		case at == len(v.Only):
			return v.Only[at-1], max(below, v.Only[at-1]) + 1
		}
		return v.Only[at-1], v.Only[at]
	case m > 1 && math.Abs(value) < float64(m):
		if value >= 0 {
			return 0, m
		}
		return -m, 0
	}
	below = int(math.Floor(value))
	return below, below + 1
}

// Hop is where x comes to from a step by n steps, or, among the steps of Only,
// by n places. Off 0 into what Least bars it goes on to the far side, back into
// it it goes on to 0. It is false where Only ends before.
func (v *Var) Hop(from, n int) (int, bool) {
	if v.Only == nil {
		to := from + n
		if m := v.Least; to != 0 && to < m && -to < m {
			switch {
			case from != 0:
				to = 0
			case n > 0:
				to = m
			default:
				to = -m
			}
		}
		return to, true
	}
	at, found := slices.BinarySearch(v.Only, from)
	if !found && n > 0 {
		at--
	}
	if at += n; at < 0 || at >= len(v.Only) {
		return from, false
	}
	return v.Only[at], true
}

// Shut is Shut for every side of a box, which it changes.
func (p *Problem) Shut(lo, hi Steps) {
	for j := range p.Vars {
		lo[j], hi[j] = p.Vars[j].Shut(lo[j], hi[j])
	}
}

// Empty says whether a box has a side that ends before it begins.
func Empty(lo, hi Steps) bool {
	for j := range lo {
		if lo[j] > hi[j] {
			return true
		}
	}
	return false
}
