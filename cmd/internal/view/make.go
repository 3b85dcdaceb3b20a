package view

import (
	"context"

	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// Make plans a train. A chance above 0 is that of ending within all limits which the plan is to have, with the
// least movement.
func Make(ctx context.Context, t *train.Train, opt Options, chance float64) (*Plan, error) {
	make := func() (*optimize.Plan, error) { return ways.Make(ctx, t, opt) }
	if chance > 0 {
		make = func() (*optimize.Plan, error) { return ways.MakeWithProbability(ctx, t, opt, chance) }
	}
	p, err := make()
	if err != nil {
		return nil, err
	}
	return Of(p), nil
}

// Relaxed is a train with a way out.
func Relaxed(t *train.Train, r *Relieved) *train.Train {
	if r == nil {
		return t
	}
	return optimize.Relax(t, r.Relaxation)
}

// Given is a train with machines held and freed as asked for.
func Given(t *train.Train, opt Options) (*train.Train, error) { return optimize.Given(t, opt) }

// Strategies are all of them.
func Strategies() []Strategy { return optimize.Strategies() }
