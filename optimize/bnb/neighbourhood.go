package bnb

import (
	"cmp"
	"math"
	"slices"

	"leastmove/optimize/mip"
)

// A neighbour is steps of some variables taken together, which leave what the
// limits involve nearly where it is.
type neighbour struct {
	vars, by []int   // variables, ascending, and the steps of each
	image    []image // what it does to each limit that it changes
	share    float64 // largest share of a limit that it uses
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
		if j.ended() {
			break
		}
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
	var found []neighbour      // by has a place for each of vars, until it is known which stay
	below := float64(farthest) // share of those that are still listed
	cut := func() {
		slices.SortStableFunc(found, func(a, b neighbour) int { return cmp.Compare(a.share, b.share) })
		if len(found) > kept {
			found = found[:kept]
			below = found[kept-1].share
		}
	}
	sums, by := j.newSums(vars), make([]int, len(vars))
	var place func(k, set, left int)
	place = func(k, set, left int) {
		if k == len(by) {
			if set < 2 {
				return
			}
			if share := sums.share(below); share < below {
				if found = append(found, neighbour{by: slices.Clone(by), share: share}); len(found) == 2*kept {
					cut()
				}
			}
			return
		}
		least, most := -min(left, 3), min(left, 3)
		if set == 0 {
			least = 0 // its mirror image is listed
		}
		for n := least; n <= most; n++ {
			by[k] = n
			sums.step(k, n)
			if n == 0 {
				place(k+1, set, left)
			} else {
				place(k+1, set+1, left-max(n, -n))
			}
		}
		by[k] = 0
	}
	place(0, 0, reach)
	cut()
	for n := range found {
		var some, steps []int
		for k, by := range found[n].by {
			if by != 0 {
				some, steps = append(some, vars[k]), append(steps, by)
			}
		}
		found[n] = j.neighbour(some, steps)
	}
	return found
}

// sums are what steps of some variables, taken in order, add to the limits that these enter. What is added up to each
// variable is kept: another step of it costs its own terms and no more.
type sums struct {
	terms  [][]sumTerm    // of each variable
	upTo   [][][3]float64 // rows of each limit with none of the variables, with the first, and so on
	radius []float64      // of each limit
	usual  []float64      // share of it that 1 stands for
}

type sumTerm struct {
	limit, row  int
	coefficient float64 // of one step
}

func (j *judge) newSums(vars []int) *sums {
	s := &sums{terms: make([][]sumTerm, len(vars))}
	at := map[int]int{}
	for k, v := range vars {
		for _, t := range j.terms[v] {
			i := j.owner[t.row]
			if _, ok := at[i]; !ok {
				at[i] = len(s.radius)
				s.radius, s.usual = append(s.radius, j.Limits[i].Radius), append(s.usual, 1)
				if j.Limits[i].Shared {
					s.usual[at[i]] = j.usual
				}
			}
			s.terms[k] = append(s.terms[k], sumTerm{at[i], t.row - j.rowStart[i], t.coefficient})
		}
	}
	for range len(vars) + 1 {
		s.upTo = append(s.upTo, make([][3]float64, len(s.radius)))
	}
	return s
}

// step sets the steps of the k-th variable, with those of the ones before it as they were last set.
func (s *sums) step(k, n int) {
	next := s.upTo[k+1]
	copy(next, s.upTo[k])
	for _, t := range s.terms[k] {
		next[t.limit][t.row] += float64(n) * t.coefficient
	}
}

// share is the largest share of a limit that all steps take up; from most on it may be any that is not below it.
func (s *sums) share(most float64) (largest float64) {
	for i, r := range s.upTo[len(s.terms)] {
		share := math.Sqrt(r[0]*r[0]+r[1]*r[1]+r[2]*r[2]) / s.radius[i] / s.usual[i]
		if largest = max(largest, share); largest >= most {
			break
		}
	}
	return largest
}

// neighbour works out what a neighbour does to the limits.
func (j *judge) neighbour(vars, by []int) neighbour {
	share := j.onto(vars, by)
	return neighbour{vars: vars, by: by, image: slices.Clone(j.images), share: share}
}

// onto works out in images what steps of some variables do to the limits, and the largest
// share of one that they take up.
func (j *judge) onto(vars, by []int) (share float64) {
	if j.imageOf == nil {
		j.imageOf = make([]int, len(j.Limits))
	}
	j.images = j.images[:0]
	for k, v := range vars {
		for _, t := range j.terms[v] {
			i := j.owner[t.row]
			if j.imageOf[i] == 0 {
				j.images = append(j.images, image{limit: i})
				j.imageOf[i] = len(j.images)
			}
			j.images[j.imageOf[i]-1].rows[t.row-j.rowStart[i]] += float64(by[k]) * t.coefficient
		}
	}
	for _, m := range j.images {
		j.imageOf[m.limit] = 0
		r := m.rows
		s := math.Sqrt(r[0]*r[0]+r[1]*r[1]+r[2]*r[2]) / j.Limits[m.limit].Radius
		if j.Limits[m.limit].Shared {
			s /= j.usual
		}
		share = math.Max(share, s)
	}
	return share
}
