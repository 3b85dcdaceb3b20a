package mip

import "math"

// rounding is how much, as a share of all that was added up, an interval is
// widened for rounding errors. A sum of n products is off by no more than
// (n+1) 2⁻⁵³ of that: this covers ten thousand of them.
const rounding = 1e-12

// passes is how often Narrow goes over all limits, and curvedPasses where rows are curved.
const passes, curvedPasses = 3, 6

// Narrow shrinks a box of steps, which it changes, to where single limits at a
// use can hold, each row with the rest of its limit at its least: what is left
// holds every point of the box that keeps all limits, each widened by a share
// of it and by what its rows may be off. It returns false where nothing is left. It is sound with all rounding
// errors counted. From a smaller box or use it ends with a smaller box.
func (p *Problem) Narrow(lo, hi Steps, use, widened float64) bool {
	if p.Shut(lo, hi); Empty(lo, hi) {
		return false
	}
	most := passes
	if p.Curved() { // the box and what rows are off over it shrink together
		most = curvedPasses
	}
	for range most {
		changed := false
		loose := p.Loose(lo, hi)
		for i := range p.Limits {
			radius := p.Limits[i].Radius * (1 + widened)
			if p.Limits[i].Shared {
				radius *= use
			}
			if loose != nil {
				radius += loose[i]
			}
			if math.IsInf(radius, 1) {
				continue
			}
			c, ok := p.narrow(p.Limits[i].Rows, radius, lo, hi)
			if !ok {
				return false
			}
			changed = changed || c
		}
		if !changed {
			break
		}
	}
	return true
}

// narrow goes over the rows of one limit.
func (p *Problem) narrow(rows []Row, radius float64, lo, hi Steps) (changed, ok bool) {
	var spans [3]struct{ low, high, size, least float64 } // least: length that the row has at least
	var square float64
	for k := range rows {
		s := &spans[k]
		s.low, s.high, s.size = p.span(&rows[k], lo, hi)
		s.least = max(0, max(s.low, -s.high)-rounding*s.size)
		square += s.least * s.least
	}
	if square > radius*radius*(1+rounding) {
		return false, false
	}
	for k := range rows {
		row, least := &rows[k], spans[k].least
		low, high, size := spans[k].low, spans[k].high, spans[k].size
		if changed { // by a row before
			low, high, size = p.span(row, lo, hi)
		}
		room := math.Sqrt(max(0, radius*radius*(1+rounding)-(square-least*least)))
		room += rounding * (size + radius)
		if low >= -room && high <= room {
			continue
		}
		for _, t := range row.Terms {
			v := &p.Vars[t.Var]
			c := t.Coefficient * v.Step
			a, b := c*float64(lo[t.Var]), c*float64(hi[t.Var])
			// What the rest of the row leaves to this term.
			from, to := (-room-(high-max(a, b)))/c, (room-(low-min(a, b)))/c
			if c < 0 {
				from, to = to, from
			}
			off := rounding * size / math.Abs(c)
			from, to = math.Ceil(from-off), math.Floor(to+off)
			if from > float64(hi[t.Var]) || to < float64(lo[t.Var]) {
				return true, false
			}
			was := [2]int{lo[t.Var], hi[t.Var]}
			newLo, newHi := v.Shut(max(was[0], atLeast(from, was[0])), min(was[1], atMost(to, was[1])))
			if newLo > newHi {
				return true, false
			}
			if was == [2]int{newLo, newHi} {
				continue
			}
			lo[t.Var], hi[t.Var], changed = newLo, newHi, true
			// The sums follow the box.
			na, nb := c*float64(newLo), c*float64(newHi)
			low += min(na, nb) - min(a, b)
			high += max(na, nb) - max(a, b)
		}
	}
	return changed, true
}

// span is the least and the largest value of a row over a box, and the size of
// what was added up.
func (p *Problem) span(row *Row, lo, hi Steps) (low, high, size float64) {
	low, high, size = row.Constant, row.Constant, math.Abs(row.Constant)
	for _, t := range row.Terms {
		c := t.Coefficient * p.Vars[t.Var].Step
		a, b := c*float64(lo[t.Var]), c*float64(hi[t.Var])
		low += min(a, b)
		high += max(a, b)
		size += max(math.Abs(a), math.Abs(b))
	}
	return low, high, size
}

// atLeast and atMost are a whole number of steps, kept from overflowing: beyond
// the end of the box it makes no difference how far.
func atLeast(from float64, lo int) int {
	if from <= float64(lo) {
		return lo
	}
	return int(from)
}

func atMost(to float64, hi int) int {
	if to >= float64(hi) {
		return hi
	}
	return int(to)
}
