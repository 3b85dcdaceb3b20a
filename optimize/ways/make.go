package ways

import (
	"context"

	"leastmove/optimize"
	"leastmove/optimize/infeasible"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// Make plans a train by the strategy of the options, and finds out what is to be known of the
// plan: why there is none and what would help, how likely it is to end within the limits, and
// what each limit does. With Brief it leaves out all that is
// not needed to know the moves. Errors are those of optimize.Make.
//
//	Begin ──▶ strategy ──▶ Finish ──▶ probability, shadow prices
//	  └─ no plan: conflict and relaxations
func Make(ctx context.Context, t *train.Train, opt optimize.Options) (*optimize.Plan, error) {
	m, err := solved(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	return m.Plan, nil
}

// solved is the solver whose plan Make's is.
func solved(ctx context.Context, t *train.Train, opt optimize.Options) (*optimize.Solver, error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	m, err := optimize.Begin(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	p, found, bound := m.Plan, m.Least, 0.0
	switch {
	case p.Status == optimize.Impossible, p.FirstOrder:
		infeasible.Explain(ctx, m)
	case found.Steps != nil && opt.First != nil && opt.Strategy.Plain():
		found = m.Choose(ctx, found)
		early, err := m.Early(found)
		if err != nil {
			return nil, err
		}
		opt.First(early)
		if err := m.Conclude(ctx, found, m.Proven(ctx, m.Least)); err != nil {
			return nil, err
		}
	case found.Steps != nil:
		found, bound = follow(ctx, m, found)
		if err := m.Finish(ctx, found, bound); err != nil {
			return nil, err
		}
	}
	if !opt.Brief && p.Moves != nil {
		p.Probability = robust.MonteCarlo(ctx, p, robust.Draws)
		if p.Status == optimize.Planned && opt.Strategy.Plain() {
			p.ShadowPrices = shadowPrices(ctx, m, p.Kept)
		}
	}
	if p.Status != optimize.Within {
		p.Cut = m.Cut(ctx)
	}
	return m, nil
}

// MakeWithProbability is the plan with the least movement that ends within the limits with a
// probability above 0 and below 1; where nothing keeps the limits at all, it is Make's, with what
// it says of that. Errors are those of robust.MakeChanceConstrained.
func MakeWithProbability(ctx context.Context, t *train.Train, opt optimize.Options, asked float64) (*optimize.Plan,
	error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Limit, opt.First = 0, nil // what is found on the way need not have the chance
	p, err := robust.MakeChanceConstrained(ctx, t, opt, asked)
	if err != nil || p.Moves != nil {
		return p, err
	}
	opt.Use, opt.Strategy = 1, optimize.LeastTotal
	return Make(ctx, t, opt)
}
