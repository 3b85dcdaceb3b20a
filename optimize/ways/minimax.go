package ways

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// minimax looks for the plan whose largest move up, to a side or along the train is smallest,
// by halving the list of sizes that a move can have: a size is too small where
// that is proven, first without whole steps and then with them. Of the plans
// within the smallest size it takes the one with the least total.
func minimax(ctx context.Context, m *optimize.Solver, least bnb.Result, use float64) (bnb.Result, float64) {
	sizes := sizes(m.Model, largestMove(m.Model, least.Steps))
	// Nothing up to sizes[low] is enough; sizes[high] is.
	low, high := -1, len(sizes)-1
	for from, to := low, high; to-from > 1; {
		mid := (from + to) / 2
		trial := m.Model.Within(capTo(sizes[mid]))
		if m.Never(ctx, trial, use) {
			from, low = mid, mid
		} else {
			to = mid
		}
	}
	best, proven := least, low
	for high-low > 1 {
		mid := (low + high) / 2
		m.Confine(ctx, capTo(sizes[mid]))
		r, none := feasible(ctx, m, use, nil)
		switch {
		case r.Steps != nil:
			best = r
			high = min(mid, slices.IndexFunc(sizes, func(s float64) bool { return s >= largestMove(m.Model, r.Steps)-speck }))
		default:
			if none && proven == low {
				proven = mid
			}
			low = mid
		}
	}
	m.Plan.First, m.Plan.FirstBound = sizes[high], sizes[proven+1]
	m.OutOfWork = m.OutOfWork || proven < low
	m.Confine(ctx, capTo(sizes[high]))
	r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: m.Options.Gap, Solves: m.Options.Solves,
		Start: []mip.Steps{best.Steps}, Tell: m.Options.Tell})
	m.OutOfWork = m.OutOfWork || r.Status == bnb.Cut
	if r.Steps == nil { // forms that are tangent there turn down what kept the limits by a hair
		m.Confine(ctx, nil)
		m.Plan.First = largestMove(m.Model, least.Steps)
		return least, m.Proven(ctx, least)
	}
	return r, m.Proven(ctx, r)
}

// speck is what arithmetic leaves of a difference in mm between two moves that
// are the same.
const speck = 1e-9

// largestMove is the largest move of a point, in mm.
func largestMove(k *optimize.Model, s mip.Steps) float64 {
	var most float64
	for v, n := range s {
		most = math.Max(most, math.Abs(float64(n))*k.Problem.Vars[v].Step)
	}
	return most
}

// sizes are all sizes in mm that a move can have up to a largest, ascending.
func sizes(k *optimize.Model, most float64) []float64 {
	out := []float64{0}
	steps := []float64{k.Train.Units.Resolution()}
	for i := range k.Train.Machines {
		if step := k.Train.ShimsOf(i).Step; !k.Train.Machines[i].Hold && !slices.Contains(steps, step) {
			steps = append(steps, step)
		}
	}
	for _, step := range steps {
		for n := 1; float64(n)*step <= most+speck; n++ {
			out = append(out, float64(n)*step)
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(a-b) < speck })
}

// capTo keeps every move within a size in mm.
func capTo(size float64) func(k *optimize.Model) {
	return func(k *optimize.Model) {
		for v := range k.Problem.Vars {
			x := &k.Problem.Vars[v]
			x.Lo, x.Hi = math.Max(x.Lo, -size), math.Min(x.Hi, size)
		}
	}
}
