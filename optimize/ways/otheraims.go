package ways

import (
	"context"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// otherAims works out what other shares of the limits would cost.
func otherAims(ctx context.Context, m *optimize.Solver, least bnb.Result) {
	const solves = 24
	for _, use := range [...]float64{1, 0.9, 0.8, 0.7, 0.5} {
		if use == m.Plan.Aim {
			continue
		}
		r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: 2 * optimize.Spare, Solves: solves,
			Start: []mip.Steps{least.Steps}})
		m.Plan.Front = append(m.Plan.Front, optimize.FrontPoint{Use: use, Total: r.Value, Bound: m.Proven(ctx, r)})
	}
}
