package infeasible

import (
	"context"

	"leastmove/optimize"
)

// A search looks for relaxations of a conflict.
type search struct {
	*optimize.Solver
	ctx  context.Context
	left int // cone programs that may still go into showing that relaxations work
}

// Explain says why a train has no plan and what would help: limits that cannot hold
// together, and, unless the options are brief, the least relaxations of them. The solver is
// one whose Begin proved that there is no plan; what is found goes into its plan.
func Explain(ctx context.Context, m *optimize.Solver) {
	m.Plan.Conflict = conflict(ctx, m)
	if !m.Options.Brief {
		Relax(ctx, m)
	}
}

// Relax adds what would help to a plan that was explained in brief.
func Relax(ctx context.Context, m *optimize.Solver) {
	p, s := m.Plan, &search{Solver: m, ctx: ctx}
	p.Relaxations = s.relaxations(ctx)
	p.Hopeless = len(p.Relaxations) == 0 && ctx.Err() == nil && s.hopeless(ctx)
}
