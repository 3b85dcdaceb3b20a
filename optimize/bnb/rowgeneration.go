package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/mip"
)

// Row generation: of many limits whose rows are about parallel, as those of a coupling in
// forty conditions are, few ever bind. The search starts with some of each such group and
// takes in those that a relaxation's optimum or a point breaks. Fewer limits can only
// lower a bound, so what is proven of them holds for all; a point counts only if it keeps
// all of them.

const (
	// fewParallel is how many limits with parallel rows are taken in at once. Larger groups
	// start with their outermost members.
	fewParallel = 8
	// broken is the share above a limit at which a relaxation's optimum breaks it.
	broken = 1e-4
	// generations is how often limits are taken in at the first box at most.
	generations = 20
)

// A reserve is the limits of a problem that a search may leave out.
type reserve struct {
	all     *grid  // of every limit
	group   []int  // of each limit: those with rows about parallel to its own; -1: too few
	in      []int  // limits that the search has, in its order
	has     []bool // of each limit: it is in
	pending []int  // limits to be taken in
}

// newReserve is the reserve of a problem; nil: all of its limits are to be in.
func newReserve(p *mip.Problem) *reserve {
	if len(p.Limits) <= fewParallel {
		return nil
	}
	out := &reserve{group: make([]int, len(p.Limits)), has: make([]bool, len(p.Limits))}
	large := false
	for g, members := range parallel(p) {
		few := len(members) <= fewParallel
		for _, i := range members {
			if out.group[i] = g; few {
				out.group[i] = -1
			}
		}
		large = large || !few
		if few {
			continue
		}
		out.outermost(p, members)
	}
	if !large {
		return nil
	}
	for i, g := range out.group {
		if g < 0 && !out.has[i] {
			out.take(i)
		}
	}
	slices.Sort(out.in)
	out.all = newGrid(p)
	return out
}

// parallel are the limits by their rows, coefficients taken to an eighth of the largest, in
// the order of the first of each. Limits of other rows may fall in with them by chance, which
// only makes for a worse start.
func parallel(p *mip.Problem) [][]int {
	type key struct {
		rows   int
		shared bool
		sum    uint64 // of all terms
	}
	at := map[key]int{}
	var out [][]int
	for i := range p.Limits {
		l := &p.Limits[i]
		k := key{len(l.Rows), l.Shared, 0}
		for _, r := range l.Rows {
			largest := 0.0
			for _, t := range r.Terms {
				largest = math.Max(largest, math.Abs(t.Coefficient))
			}
			for _, t := range r.Terms {
				for _, n := range [2]int{t.Var, int(math.Round(8 * t.Coefficient / largest))} {
					k.sum = (k.sum ^ uint64(n)) * 1099511628211 // FNV-1a
				}
			}
		}
		n, is := at[k]
		if !is {
			n = len(out)
			at[k], out = n, append(out, nil)
		}
		out[n] = append(out[n], i)
	}
	return out
}

// outermost takes in the members of a group that reach out the most: by each row to both
// sides, and the narrowest.
func (r *reserve) outermost(p *mip.Problem, members []int) {
	most := func(measure func(l *mip.Limit) float64) {
		best := members[0]
		for _, i := range members {
			if measure(&p.Limits[i]) > measure(&p.Limits[best]) {
				best = i
			}
		}
		r.take(best)
	}
	most(func(l *mip.Limit) float64 { return -l.Radius })
	for k := range p.Limits[members[0]].Rows {
		most(func(l *mip.Limit) float64 { return l.Rows[k].Constant - l.Radius })
		most(func(l *mip.Limit) float64 { return -l.Rows[k].Constant - l.Radius })
	}
}

func (r *reserve) take(i int) {
	if !r.has[i] {
		r.has[i] = true
		r.in = append(r.in, i)
	}
}

// judge puts down, of each group, the limit that the rows of a point break the most at a
// use, each longer by a share and by what it is loose by (nil: nothing). It says whether
// any is broken.
func (r *reserve) judge(rows []float64, use, widened float64, loose []float64) bool {
	worst := map[int]int{} // limit of each group
	by := map[int]float64{}
	any := false
	for i := range r.all.Limits {
		if r.has[i] {
			continue
		}
		s := r.all.share(i, rows)
		if loose != nil {
			s -= loose[i] / r.all.Limits[i].Radius
		}
		if r.all.Limits[i].Shared {
			s /= use
		}
		if s <= 1+widened {
			continue
		}
		any = true
		if g := r.group[i]; s > by[g] {
			worst[g], by[g] = i, s
		}
	}
	for _, i := range worst {
		r.pending = append(r.pending, i)
	}
	return any
}

// rowsAt are the values of all rows at a point of the variables, in steps.
func (r *reserve) rowsAt(x []float64) []float64 {
	rows := slices.Clone(r.all.constant)
	for j, v := range x {
		for _, t := range r.all.terms[j] {
			rows[t.row] += v * t.coefficient
		}
	}
	return rows
}

// grow takes in what is pending; false where that is nothing.
func (r *reserve) grow() bool {
	slices.Sort(r.pending)
	before := len(r.in)
	for _, i := range r.pending {
		r.take(i)
	}
	r.pending = r.pending[:0]
	return len(r.in) > before
}

// problem is the problem with the limits that are in.
func (r *reserve) problem() *mip.Problem { return r.all.Only(r.in) }

// full are the multipliers of the limits that are in as those of all.
func (r *reserve) full(pull []float64) []float64 {
	out := make([]float64, len(r.all.constant))
	for _, i := range r.in {
		n := len(r.all.Limits[i].Rows)
		copy(out[r.all.rowStart[i]:], pull[:n])
		pull = pull[n:]
	}
	return out
}

// part are the multipliers of all limits as those of the limits that are in.
func (r *reserve) part(pull []float64) []float64 {
	var out []float64
	for _, i := range r.in {
		out = append(out, pull[r.all.rowStart[i]:r.all.rowStart[i+1]]...)
	}
	return out
}
