package view

import (
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// A Plan is a plan and what pages say of it.
type Plan struct {
	*optimize.Plan
	Relieved *Relieved // the way out that the planned train has; nil: none
	Gap      float64   // share of the total by which it may be above the least, proven; NaN: nothing is proven
}

// A Relieved says with which way out of a conflict a train was planned.
type Relieved struct {
	Number int // in the list of the train without it, from 1
	Relaxation
}

// Of are the facts of a plan.
func Of(p *optimize.Plan) *Plan {
	return &Plan{Plan: p, Gap: gapOf(p)}
}

// gapOf is the share of the total by which it may be above the least.
func gapOf(p *optimize.Plan) float64 {
	switch {
	case p.Total == 0:
		return 0
	case p.Bound > p.Total:
		return 0 // by rounding alone
	}
	return (p.Total - p.Bound) / p.Total
}

// Fair is the share of a limit by which a checked plan may pass it for the tolerances of the solver.
const Fair = words.Fair
