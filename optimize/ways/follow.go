package ways

import (
	"context"
	"math"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// follow goes from the plan of the smallest total to that of the strategy. The
// bound on the total is a proven one, among plans as good by the strategy's own
// measure.
func follow(ctx context.Context, m *optimize.Solver, least bnb.Result) (r bnb.Result, bound float64) {
	use := least.Claim.Use
	switch m.Options.Strategy {
	case optimize.Minimax:
		return minimax(ctx, m, least, use)
	case optimize.FewestMachines:
		return leastChoice(ctx, m, machineChoice(m.Model), least)
	case optimize.FewestFeet:
		return leastChoice(ctx, m, footChoice(m.Model), least)
	}
	return least, m.Proven(ctx, least)
}

// leastChoice is the plan that moves the fewest; where the search ended before it was
// found, the plan of the smallest total, with nothing proven of what it moves.
func leastChoice(ctx context.Context, m *optimize.Solver, c choice, least bnb.Result) (bnb.Result, float64) {
	bound := m.Proven(ctx, least)
	if r, b := fewest(ctx, m, c, least.Claim.Use); r.Steps != nil {
		if b > bound || math.IsNaN(bound) {
			bound = b
		}
		return r, bound // what holds of all plans holds of these
	}
	m.OutOfWork = true
	m.Confine(ctx, nil)
	moves := m.Model.Moves(least.Steps)
	if m.Options.Strategy == optimize.FewestFeet {
		m.Plan.First = float64(optimize.FeetMoved(moves))
	} else {
		m.Plan.First = float64(optimize.MachinesMoved(moves))
	}
	return least, bound
}

// feasible looks for any plan at a use within what the variables are confined
// to, and says whether it is proven that there is none.
func feasible(ctx context.Context, m *optimize.Solver, use float64, start []mip.Steps) (bnb.Result, bool) {
	const solves = 400
	r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: math.Inf(1), Solves: solves, Start: start, Tell: m.Options.Tell})
	return r, r.Status == bnb.Impossible && math.IsInf(m.Proven(ctx, r), 1)
}
