package bnb

import (
	"cmp"
	"math"
	"slices"

	"leastmove/optimize/mip"
)

// A neighbour is steps of some variables taken together, which leave what the
// limits speak of nearly where it is.
type neighbour struct {
	vars, by []int   // variables, ascending, and the steps of each
	image    []image // what it does to each limit that it touches
	share    float64 // largest share of a limit that it takes up
}

// An image is what a neighbour adds to the rows of one limit.
type image struct {
	limit int
	rows  [3]float64
}

// farthest is the share of a limit that a neighbour may take up. Two points that
// keep all limits differ by no more than twice any radius, so no longer neighbour
// leads from one to the other.
const farthest = 2

// neighbourhood lists single steps and, of every row of a limit, the neighbours
// within its variables that are small in steps and in every limit. Where a
// limit is narrower than what one step does to it, only they lead along.
func (j *judge) neighbourhood() []neighbour {
	var all []neighbour
	for v := range j.Vars {
		if j.lo[v] == j.hi[v] {
			continue
		}
		for _, n := range j.hops(v) {
			all = append(all, j.neighbour([]int{v}, []int{n}))
		}
	}
	seen := map[string]bool{}
	for i := range j.Limits {
		for _, row := range j.Limits[i].Rows {
			var vars mip.Steps
			for _, t := range row.Terms {
				if j.lo[t.Var] < j.hi[t.Var] {
					vars = append(vars, t.Var)
				}
			}
			slices.Sort(vars)
			if key := vars.Key(); !seen[key] {
				seen[key] = true
				all = append(all, j.within(vars)...)
			}
		}
	}
	return all
}

// hops are the numbers of steps that a variable is moved by on its own. From
// wherever it may be one of them leads to the next place.
func (j *judge) hops(v int) []int {
	sizes := []int{1, 2, 5}
	only := j.Vars[v].Only
	if only == nil {
		if m := j.Vars[v].Least; m > 5 {
			sizes = append(sizes, m)
		}
		return sizes
	}
	from, _ := slices.BinarySearch(only, j.lo[v])
	for k := from; k+1 < len(only) && only[k+1] <= j.hi[v]; k++ {
		sizes = append(sizes, only[k+1]-only[k])
	}
	slices.Sort(sizes)
	return slices.Compact(sizes)
}

// within lists the neighbours among some variables.
func (j *judge) within(vars []int) []neighbour {
	const kept = 400
	reach := 6 // steps in all; fewer where more variables make for more to list
	switch {
	case len(vars) > 8:
		reach = 4
	case len(vars) > 4:
		reach = 5
	}
	var found []neighbour
	by := make([]int, len(vars))
	var place func(k, left int, first bool)
	place = func(k, left int, first bool) {
		if k == len(by) {
			var e neighbour
			for i, n := range by {
				if n != 0 {
					e.vars, e.by = append(e.vars, vars[i]), append(e.by, n)
				}
			}
			if len(e.vars) < 2 {
				return
			}
			if e = j.neighbour(e.vars, e.by); e.share < farthest {
				found = append(found, e)
			}
			return
		}
		most := min(left, 3)
		for n := -most; n <= most; n++ {
			if first && n < 0 {
				continue // its mirror image is listed
			}
			by[k] = n
			place(k+1, left-max(n, -n), first && n == 0)
		}
		by[k] = 0
	}
	place(0, reach, true)
	slices.SortStableFunc(found, func(a, b neighbour) int { return cmp.Compare(a.share, b.share) })
	return found[:min(len(found), kept)]
}

// neighbour works out what a neighbour does to the limits.
func (j *judge) neighbour(vars, by []int) neighbour {
	e := neighbour{vars: vars, by: by}
	for k, v := range vars {
		for _, t := range j.terms[v] {
			i := j.owner[t.row]
			at := slices.IndexFunc(e.image, func(m image) bool { return m.limit == i })
			if at < 0 {
				at = len(e.image)
				e.image = append(e.image, image{limit: i})
			}
			e.image[at].rows[t.row-j.rowStart[i]] += float64(by[k]) * t.coefficient
		}
	}
	for _, m := range e.image {
		r := m.rows
		s := math.Sqrt(r[0]*r[0]+r[1]*r[1]+r[2]*r[2]) / j.Limits[m.limit].Radius
		if j.Limits[m.limit].Shared {
			s /= j.usual
		}
		e.share = math.Max(e.share, s)
	}
	return e
}
