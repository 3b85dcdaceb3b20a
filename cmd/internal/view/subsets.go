package view

import (
	"context"

	"leastmove/optimize"
	"leastmove/train"
)

// Subsets are which machines can do it with no others moved.
type Subsets = optimize.Subsets

// MostSubsets is the most machines of which every subset is planned.
const MostSubsets = optimize.MostSubsets

// Movable is how many machines may be moved.
func Movable(t *train.Train, opt optimize.Options) int { return optimize.Movable(t, opt) }

// EverySubset plans with every subset of the machines that may be moved. An error is one of
// planning.
func EverySubset(ctx context.Context, t *train.Train, opt optimize.Options) (*Subsets, error) {
	all, err := optimize.EverySubset(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	return &all, nil
}
