package view

import (
	"leastmove/optimize"
	"leastmove/train"
)

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
