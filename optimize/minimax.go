package optimize

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// minimax looks for the plan whose largest move up or to a side is smallest,
// by halving the list of sizes that a move can have: a size is too small where
// that is proven, first without whole steps and then with them. Of the plans
// within the smallest size it takes the one with the least total.
func (m *maker) minimax(ctx context.Context, least bnb.Result, use float64) (bnb.Result, float64) {
	sizes := sizes(m.task, largestMove(m.task, least.Steps))
	// Nothing up to sizes[low] is enough; sizes[high] is.
	low, high := -1, len(sizes)-1
	for from, to := low, high; to-from > 1; {
		mid := (from + to) / 2
		trial := m.capped(sizes[mid])
		if relaxationInfeasibleAt(&trial.problem, use) {
			from, low = mid, mid
		} else {
			to = mid
		}
	}
	best, proven := least, low
	for high-low > 1 {
		mid := (low + high) / 2
		m.confine(capTo(sizes[mid]))
		r, none := m.feasible(ctx, use, nil)
		switch {
		case r.Steps != nil:
			best = r
			high = min(mid, slices.IndexFunc(sizes, func(s float64) bool { return s >= largestMove(m.task, r.Steps)-speck }))
		default:
			if none && proven == low {
				proven = mid
			}
			low = mid
		}
	}
	m.plan.First, m.plan.FirstBound = sizes[high], sizes[proven+1]
	m.ran = m.ran || proven < low
	m.confine(capTo(sizes[high]))
	r := m.find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: m.opt.Gap, Solves: m.opt.Solves, Start: []mip.Steps{best.Steps}, Tell: m.opt.Tell})
	m.ran = m.ran || r.Status == bnb.Cut
	return r, m.proven(r)
}

// speck is what arithmetic leaves of a difference in mm between two moves that
// are the same.
const speck = 1e-9

// largestMove is the largest move up or to a side of a point, in mm.
func largestMove(k *task, s mip.Steps) float64 {
	var most float64
	for v, n := range s {
		if k.feet[v].act != axial {
			most = math.Max(most, math.Abs(float64(n))*k.problem.Vars[v].Step)
		}
	}
	return most
}

// sizes are all sizes in mm that a move can have up to a largest, ascending.
func sizes(k *task, most float64) []float64 {
	out := []float64{0}
	for _, step := range []float64{k.train.Shims.Step, resolution(k.train.Units)} {
		for n := 1; float64(n)*step <= most+speck; n++ {
			out = append(out, float64(n)*step)
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(a-b) < speck })
}

// capTo keeps every move up and to a side within a size in mm.
func capTo(size float64) func(k *task) {
	return func(k *task) {
		for v := range k.problem.Vars {
			if k.feet[v].act != axial {
				x := &k.problem.Vars[v]
				x.Lo, x.Hi = math.Max(x.Lo, -size), math.Min(x.Hi, size)
			}
		}
	}
}

// capped is the task with every move within a size in mm.
func (m *maker) capped(size float64) *task {
	trial := *m.task
	trial.problem.Vars = slices.Clone(trial.problem.Vars)
	capTo(size)(&trial)
	return &trial
}
