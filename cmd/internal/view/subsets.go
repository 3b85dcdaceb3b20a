package view

import (
	"context"

	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// Subsets are which machines can do it with no others moved.
type Subsets struct {
	Can       []Subset      // every machine of them moved: fewest machines first, then by total
	Idle      int           // sets whose plan leaves a machine of them alone
	Cannot    int           // sets with which nothing keeps the limits: proven
	Undecided int           // sets of which neither is known
	Sets      int           // all of them
	Curve     []SubsetPoint // the least total by how many machines are moved at most, from none on
}

// A Subset is a set of machines, and its plan.
type Subset struct {
	Machines []int
	Plan     *Plan
	Outcome
}

// A SubsetPoint is what moving no more than some machines takes.
type SubsetPoint = ways.SubsetPoint

// MostSubsets is the most machines of which every subset is planned.
const MostSubsets = ways.MostSubsets

// Movable is how many machines may be moved.
func Movable(t *train.Train, opt optimize.Options) int { return ways.Movable(t, opt) }

// EverySubset plans with every subset of the machines that may be moved. An error is one of
// planning.
func EverySubset(ctx context.Context, t *train.Train, opt optimize.Options) (*Subsets, error) {
	all, err := ways.EverySubset(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	return SubsetsOf(&all), nil
}

// SubsetsOf are the facts of such plans.
func SubsetsOf(all *ways.Subsets) *Subsets {
	out := &Subsets{
		Idle: all.Idle, Cannot: all.Cannot, Undecided: all.Undecided, Curve: all.Curve,
		Sets: len(all.Can) + all.Idle + all.Cannot + all.Undecided,
	}
	for _, s := range all.Can {
		out.Can = append(out.Can, Subset{s.Machines, Of(s.Plan), outcomeOf(s.Plan)})
	}
	return out
}
