// Package simplex minimises
//
//	Σ weight_j |x_j| + slope_j x_j   under   lo_j ≤ x_j ≤ hi_j,   a_k·x ≤ b_k
//
// again and again, each time from where it ended before: for other boxes, costs and right-hand sides, with more
// half-spaces or fewer. That is what a search asks that has tangents in the place of discs.
//
// It is the dual simplex method on a dictionary: variables, and the slacks b_k − a_k·x of the half-spaces, are basic
// and written in terms of as many others as there are variables. Costs are piecewise linear with a break at 0, so
// what is not basic rests at an end of its box or at 0, and a step of the dual passes breaks for as long as that gains
// (the long-step rule). The variable that leaves is the one with the steepest edge. Both rules are in textbooks of
// linear programming, as Koberstein, "The dual simplex method, techniques for a fast and stable implementation", 2005
// (from memory).
//
// Whatever rounding has done to the dictionary, the multipliers Y are 0 or more and so give a bound by weak duality,
// which is the caller's to work out.
package simplex

import "math"

// A Status says how Solve ended.
type Status int

const (
	Stuck      Status = iota // out of pivots, or of digits: nothing is known
	Optimal                  // X is an optimum
	Passed                   // the optimum is no less than the cutoff; Y says why
	Infeasible               // no x keeps all; Y is a ray that says why
)

// A Solver has the program and the dictionary that the last Solve ended with. It is not for use by several goroutines
// at once.
type Solver struct {
	n                       int
	lo, hi, weight, slope   []float64
	cuts                    []cut
	rows                    []float64 // of the dictionary, n coefficients and a constant each
	basic, nonbasic, placed []int     // variable of each row and of each column; row of a basic variable, -1 - column else
	x                       []float64 // of the variables and slacks
	q                       []float64 // multipliers: of a variable Σ y a, of a slack y
	ray                     []float64 // y of the ray; nil: none
	pivots                  int       // since the dictionary was last written afresh
	steps                   []float64 // of each column: how far the dual may go to its next break
	row                     []float64
}

// A cut is a half-space.
type cut struct {
	a []float64 // of each variable
	b float64
}

// New is a solver of n variables, all of them 0, without half-spaces.
func New(n int) *Solver {
	s := &Solver{n: n, lo: make([]float64, n), hi: make([]float64, n), weight: make([]float64, n),
		slope: make([]float64, n), nonbasic: make([]int, n), placed: make([]int, n), x: make([]float64, n),
		q: make([]float64, n), steps: make([]float64, n), row: make([]float64, n+1)}
	for j := range n {
		s.nonbasic[j], s.placed[j] = j, -1-j
	}
	return s
}

// Set sets the box and the cost of a variable; weight is 0 or more.
func (s *Solver) Set(j int, lo, hi, weight, slope float64) {
	s.lo[j], s.hi[j], s.weight[j], s.slope[j] = lo, hi, weight, slope
}

// Cuts is the number of half-spaces.
func (s *Solver) Cuts() int { return len(s.cuts) }

// X is where variable j is, Y the multiplier of half-space k, Slack how far x is inside.
func (s *Solver) X(j int) float64     { return s.x[j] }
func (s *Solver) Slack(k int) float64 { return s.x[s.n+k] }
func (s *Solver) Y(k int) float64 {
	if s.ray != nil {
		return s.ray[k]
	}
	return s.q[s.n+k]
}

// Resting says whether half-space k holds by what others do: its slack is basic.
func (s *Solver) Resting(k int) bool { return s.placed[s.n+k] >= 0 }

// at is row r of the dictionary.
func (s *Solver) at(r int) []float64 { w := s.n + 1; return s.rows[r*w : (r+1)*w : (r+1)*w] }

// Add takes in the half-space a·x ≤ b, which is the last one then. The solver keeps a.
func (s *Solver) Add(a []float64, b float64) {
	s.cuts = append(s.cuts, cut{a, b})
	v := s.n + len(s.cuts) - 1
	s.x, s.q = append(s.x, 0), append(s.q, 0)
	s.placed = append(s.placed, len(s.basic))
	s.basic = append(s.basic, v)
	s.rows = append(s.rows, make([]float64, s.n+1)...)
	out := s.at(len(s.basic) - 1)
	out[s.n] = b
	for j, c := range a {
		if c == 0 {
			continue
		}
		if at := s.placed[j]; at < 0 {
			out[-1-at] -= c
		} else {
			for k, w := range s.at(at) {
				out[k] -= c * w
			}
		}
	}
}

// Bound sets the right-hand side of half-space k.
func (s *Solver) Bound(k int, b float64) {
	by := b - s.cuts[k].b
	if by == 0 {
		return
	}
	s.cuts[k].b = b
	if at := s.placed[s.n+k]; at >= 0 {
		s.at(at)[s.n] += by
	} else {
		for r := range s.basic {
			row := s.at(r)
			row[s.n] -= by * row[-1-at]
		}
	}
}

// Drop takes out half-space k, which must be resting; the last one has its number then.
func (s *Solver) Drop(k int) {
	r, last := s.placed[s.n+k], len(s.basic)-1
	if r != last {
		copy(s.at(r), s.at(last))
		s.basic[r] = s.basic[last]
		s.placed[s.basic[r]] = r
	}
	s.basic, s.rows = s.basic[:last], s.rows[:last*(s.n+1)]
	end := len(s.cuts) - 1
	if k != end {
		v, w := s.n+k, s.n+end
		s.cuts[k], s.x[v], s.q[v], s.placed[v] = s.cuts[end], s.x[w], s.q[w], s.placed[w]
		if at := s.placed[v]; at >= 0 {
			s.basic[at] = v
		} else {
			s.nonbasic[-1-at] = v
		}
	}
	s.cuts, s.x, s.q, s.placed = s.cuts[:end], s.x[:s.n+end], s.q[:s.n+end], s.placed[:s.n+end]
}

const (
	within  = 1e-9 // mm or mrad by which a value may be off and count as within its ends
	level   = 1e-9 // by which a multiplier may be off a break and count as at it
	smooth  = 1e-9 // a coefficient of the dictionary below this is none
	afresh  = 200  // pivots after which the dictionary is written afresh
	unbound = 1e30
	nothing = 1e-12 // a coefficient of the dictionary below this is rounding
)

// ends are the ends of where variable v costs least at its multiplier.
func (s *Solver) ends(v int) (from, to float64) {
	q := s.q[v]
	if v >= s.n {
		if q > level {
			return 0, 0
		}
		return 0, unbound
	}
	lo, hi, w := s.lo[v], s.hi[v], s.weight[v]
	q += s.slope[v]
	from, to = lo, hi
	// Left of 0 the cost of a unit to the right is q − w, right of it q + w.
	if lo < 0 {
		if q-w < -level {
			from = math.Min(hi, 0)
		} else if q-w > level {
			to = lo
		}
	}
	if hi > 0 {
		if q+w < -level {
			from = hi
		} else if q+w > level {
			to = math.Min(to, math.Max(lo, 0))
		}
	}
	return from, to
}

// next is the break that variable v, resting at p, comes to as its multiplier rises or falls, and where it rests beyond
// it; false where it stays for good.
func (s *Solver) next(v int, p float64, rises bool) (q, to float64, ok bool) {
	if v >= s.n {
		if rises || p >= unbound {
			return 0, 0, false
		}
		return 0, unbound, true
	}
	lo, hi, w := s.lo[v], s.hi[v], s.weight[v]
	if rises {
		switch {
		case p > 0 && p > lo:
			return -w - s.slope[v], math.Max(lo, 0), true
		case p > lo:
			return w - s.slope[v], lo, true
		}
		return 0, 0, false
	}
	switch {
	case p < 0 && p < hi:
		return w - s.slope[v], math.Min(hi, 0), true
	case p < hi:
		return -w - s.slope[v], hi, true
	}
	return 0, 0, false
}

// cost of variable v at p, without its multiplier.
func (s *Solver) cost(v int, p float64) float64 {
	if v >= s.n {
		return 0
	}
	return s.weight[v]*math.Abs(p) + s.slope[v]*p
}

// Solve minimises, giving up once the minimum is known to be no less than the cutoff, or after so many pivots.
func (s *Solver) Solve(cutoff float64, most int) Status {
	if s.pivots > afresh {
		s.rewrite()
	}
	s.ray = nil
	value := s.settle()
	for n := 0; ; n++ {
		if value >= cutoff {
			return Passed
		}
		r, dir, target := s.leaving()
		if r < 0 {
			return Optimal
		}
		if n == most {
			return Stuck
		}
		gain, status := s.step(r, dir, target)
		if status != Optimal {
			return status
		}
		value += gain
	}
}

// settle puts what is not basic to where it costs least, works out the rest, and returns the value of the dual.
func (s *Solver) settle() float64 {
	for _, v := range s.nonbasic {
		from, to := s.ends(v)
		if to >= unbound {
			to = from
		}
		if x := s.x[v]; math.Abs(x-from) <= math.Abs(x-to) {
			s.x[v] = from
		} else {
			s.x[v] = to
		}
	}
	for c, v := range s.nonbasic {
		s.row[c] = s.x[v]
	}
	s.row[s.n] = 1
	var value float64
	for _, v := range s.nonbasic {
		value += s.cost(v, s.x[v])
	}
	for r, v := range s.basic {
		var sum float64
		for c, a := range s.at(r) {
			sum += a * s.row[c]
		}
		s.x[v] = sum
		p, _ := s.nearest(v)
		value += s.cost(v, p) + s.q[v]*(p-sum)
	}
	return value
}

// nearest is where variable v costs least, as near as may be to where it is, and how far that is.
func (s *Solver) nearest(v int) (p, off float64) {
	from, to := s.ends(v)
	x := s.x[v]
	switch {
	case x < from:
		return from, from - x
	case x > to:
		return to, x - to
	}
	return x, 0
}

// leaving is the row of the variable that is off where it costs least, by the steepest edge, the way that its
// multiplier goes, and where it is to rest; -1: none is.
func (s *Solver) leaving() (row int, dir, target float64) {
	row = -1
	best := 0.0
	for r, v := range s.basic {
		p, off := s.nearest(v)
		if off <= within {
			continue
		}
		norm := 1.0
		for _, a := range s.at(r)[:s.n] {
			norm += a * a
		}
		if score := off * off / norm; score > best {
			row, best, target, dir = r, score, p, 1
			if s.x[v] > p {
				dir = -1
			}
		}
	}
	return row, dir, target
}

// step lets the multiplier of the variable of row r go one way for as long as that gains, and has the variable that is
// at a break then take its place. It returns what was gained.
func (s *Solver) step(r int, dir, target float64) (gain float64, status Status) {
	row, leaves := s.at(r), s.basic[r]
	slope := math.Abs(target - s.x[leaves])
	for c, v := range s.nonbasic {
		s.steps[c] = s.until(v, s.x[v], -row[c]*dir)
	}
	own := s.until(leaves, target, dir)
	gone := 0.0
	var enters int // the column whose break is the nearest
	for {
		// The nearest break; of several that are as near the one with the largest coefficient.
		next := own
		for _, t := range s.steps {
			next = math.Min(next, t)
		}
		if math.IsInf(next, 1) {
			s.rayOf(r, dir)
			return 0, Infeasible
		}
		near := next + 1e-12*(1+math.Abs(next))
		size := 0.0
		for c, t := range s.steps {
			if t <= near && math.Abs(row[c]) > size {
				enters, size = c, math.Abs(row[c])
			}
		}
		next = math.Max(next, gone)
		gain += slope * (next - gone)
		gone = next
		if own <= near && size < 1 {
			_, to, _ := s.next(leaves, target, dir > 0)
			jump := math.Abs(to - target)
			if slope -= jump; slope <= within {
				s.q[leaves], _, _ = s.next(leaves, target, dir > 0)
				s.shift(row, dir, gone)
				return gain, Optimal
			}
			target = to
			own = s.until(leaves, target, dir)
			continue
		}
		v := s.nonbasic[enters]
		_, to, _ := s.next(v, s.x[v], -row[enters]*dir > 0)
		if to >= unbound {
			break
		}
		if slope -= math.Abs(row[enters]) * math.Abs(to-s.x[v]); slope <= within {
			break
		}
		s.flip(enters, to-s.x[v])
		s.steps[enters] = s.until(v, s.x[v], -row[enters]*dir)
	}
	v := s.nonbasic[enters]
	q, _, _ := s.next(v, s.x[v], -row[enters]*dir > 0)
	s.shift(row, dir, gone)
	s.q[leaves] += dir * gone
	s.q[v] = q
	s.flip(enters, (target-s.x[leaves])/row[enters])
	s.x[leaves] = target
	if leaves >= s.n {
		s.x[leaves] = 0
		s.q[leaves] = math.Max(0, s.q[leaves])
	}
	s.pivot(r, enters)
	return gain, Optimal
}

// until is how far the dual may go until the multiplier of variable v, which rests at p and changes at a rate, comes to
// its next break.
func (s *Solver) until(v int, p, rate float64) float64 {
	q, _, ok := s.next(v, p, rate > 0)
	if !ok || math.Abs(rate) < smooth {
		return math.Inf(1)
	}
	return math.Max(0, (q-s.q[v])/rate)
}

// flip moves a nonbasic variable, and with it all that is written in terms of it.
func (s *Solver) flip(column int, by float64) {
	s.x[s.nonbasic[column]] += by
	for k, b := range s.basic {
		s.x[b] += by * s.at(k)[column]
	}
}

// shift takes the multipliers of what is not basic on, as that of a row's variable goes some way.
func (s *Solver) shift(row []float64, dir, by float64) {
	for c, v := range s.nonbasic {
		s.q[v] -= row[c] * dir * by
		if v >= s.n {
			s.q[v] = math.Max(0, s.q[v])
		}
	}
}

// rayOf keeps the multipliers of the way that has no end.
func (s *Solver) rayOf(r int, dir float64) {
	s.ray = make([]float64, len(s.cuts))
	for c, v := range s.nonbasic {
		if v >= s.n {
			s.ray[v-s.n] = math.Max(0, -s.at(r)[c]*dir)
		}
	}
	if v := s.basic[r]; v >= s.n {
		s.ray[v-s.n] = math.Max(0, dir)
	}
}

// pivot exchanges the variable of a row for that of a column.
func (s *Solver) pivot(r, e int) {
	s.pivots++
	row := s.at(r)
	a := 1 / row[e]
	for c := range row {
		row[c] *= -a
	}
	row[e] = a
	for k := range s.basic {
		if k == r {
			continue
		}
		other := s.at(k)
		f := other[e]
		other[e] = 0
		if math.Abs(f) < nothing {
			continue
		}
		for c, v := range row {
			other[c] += f * v
		}
	}
	in, out := s.nonbasic[e], s.basic[r]
	s.basic[r], s.nonbasic[e] = in, out
	s.placed[in], s.placed[out] = r, -1-e
}

// rewrite writes the dictionary afresh, with the same basis but for what has no digits left.
func (s *Solver) rewrite() {
	var tight []int // half-spaces
	free := make([]bool, s.n)
	for _, v := range s.nonbasic {
		if v >= s.n {
			tight = append(tight, v)
		}
	}
	for _, v := range s.basic {
		if v < s.n {
			free[v] = true
		}
	}
	w := s.n + 1
	for j := range s.n {
		s.nonbasic[j], s.placed[j] = j, -1-j
	}
	for k := range s.cuts {
		s.basic[k], s.placed[s.n+k] = s.n+k, k
		row := s.rows[k*w : (k+1)*w]
		for j, c := range s.cuts[k].a {
			row[j] = -c
		}
		row[s.n] = s.cuts[k].b
	}
	for range tight {
		best, row, col, at := 1e-8, -1, -1, -1
		for n, v := range tight {
			if v < 0 {
				continue
			}
			for c, a := range s.at(s.placed[v])[:s.n] {
				if j := s.nonbasic[c]; j < s.n && free[j] && math.Abs(a) > best {
					best, row, col, at = math.Abs(a), s.placed[v], c, n
				}
			}
		}
		if row < 0 {
			break // those that are left are basic from now on
		}
		s.pivot(row, col)
		tight[at] = -1
	}
	for _, v := range tight {
		if v >= 0 {
			s.q[v] = 0
		}
	}
	for j := range s.n {
		s.q[j] = 0
		for k := range s.cuts {
			if y := s.q[s.n+k]; y != 0 {
				s.q[j] += y * s.cuts[k].a[j]
			}
		}
	}
	s.pivots = 0
}
