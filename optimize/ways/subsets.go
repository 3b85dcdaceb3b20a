package ways

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// MostSubsets is the most movable machines whose subsets are all looked at.
const MostSubsets = 10

// A Subset is some of the machines, no others being moved, and the plan then.
type Subset struct {
	Machines []int
	Plan     *optimize.Plan // its total is within subsetGap of the least, or says by Bound how far it may be off
}

// Subsets are what came of planning with every subset of the movable machines.
type Subsets struct {
	Can       []Subset // those that can do it, every machine of them moved: fewest machines first, then by total
	Idle      int      // those whose plan leaves a machine alone, and so is that of a smaller one
	Cannot    int      // those with which nothing keeps the limits: proven
	Undecided int      // those of which neither is known
	// Curve has for each number of machines, from none to all that may be moved, the
	// least total with no more of them moved.
	Curve []SubsetPoint
}

// A SubsetPoint is what moving no more than some machines takes.
type SubsetPoint struct {
	Moved int     // machines, at most
	Total float64 // mm, of the least plan that was found; NaN: none was
	Bound float64 // mm, proven: no plan that moves as few has a smaller total; +Inf: none exists; NaN: not known
}

// subsetGap is the relative gap at which a subset's total counts as least, and
// subsetSolves the most cone programs for one: there are many of them.
const (
	subsetGap    = 0.01
	subsetSolves = 200
)

// Movable is how many machines may be moved, with the options' Hold and Free.
func Movable(t *train.Train, opt optimize.Options) int {
	n := 0
	if t, err := optimize.Given(t, opt); err == nil {
		for i := range t.Machines {
			if !t.Machines[i].Hold && len(t.Machines[i].Feet) > 0 {
				n++
			}
		}
	}
	return n
}

// EverySubset plans with every subset of the movable machines. An error names
// what is wrong with the options, or too many machines.
func EverySubset(ctx context.Context, t *train.Train, opt optimize.Options) (Subsets, error) {
	var out Subsets
	opt.Brief, opt.Strategy = true, optimize.LeastTotal
	given, err := optimize.Given(t, opt)
	if err != nil {
		return out, err
	}
	m := optimize.NewSolver(given, opt)
	m.Linearize(ctx)
	s := &sieve{choice: machineChoice(m.Model), solver: m, use: m.Plan.Aim, firm: true}
	if n := len(s.weight); n > MostSubsets {
		return out, fmt.Errorf("%d machines may be moved: subsets are looked at where there are at most %d", n, MostSubsets)
	}
	for size := range len(s.weight) + 1 {
		out.Curve = append(out.Curve, SubsetPoint{size, math.NaN(), math.Inf(1)})
		s.each(size, func(set uint32) bool {
			if err == nil && ctx.Err() == nil {
				err = planSubset(ctx, m, s, set, &out)
			}
			return err == nil && ctx.Err() == nil
		})
		if ctx.Err() != nil {
			out.Curve[size].Bound = math.NaN()
		}
		if size > 0 {
			out.Curve[size].Total = least(out.Curve[size-1].Total, out.Curve[size].Total)
		}
	}
	// What the clock or an interrupt left out is not known.
	out.Undecided += 1<<len(s.weight) - (len(out.Can) + out.Idle + out.Cannot + out.Undecided)
	slices.SortStableFunc(out.Can, func(a, b Subset) int {
		return cmp.Or(cmp.Compare(len(a.Machines), len(b.Machines)), cmp.Compare(a.Plan.Total, b.Plan.Total))
	})
	return out, err
}

// planSubset plans within the aim, with nothing outside a set moved.
func planSubset(ctx context.Context, m *optimize.Solver, s *sieve, set uint32, out *Subsets) error {
	if s.missed(set) {
		out.Cannot++
		return nil
	}
	if l := s.look(ctx, set); l.never {
		s.learn(ctx, set, l)
		out.Cannot++
		return nil
	}
	sub := optimize.NewSolver(m.Plan.File, m.Options)
	sub.Confine(ctx, s.only(set))
	solves := subsetSolves
	if m.Options.Solves > 0 {
		solves = min(solves, m.Options.Solves)
	}
	r := sub.Find(ctx, mip.Goal{Use: s.use}, bnb.Options{Gap: subsetGap, Solves: solves, Tell: m.Options.Tell})
	p, bound := sub.Plan, sub.Proven(ctx, r)
	point := &out.Curve[len(out.Curve)-1]
	point.Bound = math.Min(point.Bound, bound) // NaN where one of them is
	if r.Steps == nil {
		if math.IsInf(bound, 1) {
			out.Cannot++
		} else {
			out.Undecided++
		}
		return nil
	}
	if err := sub.Take(r, bound, s.use); err != nil {
		return err
	}
	point.Total = least(point.Total, p.Total)
	machines := machinesIn(sub.Model, set)
	if p.Moved < len(machines) {
		out.Idle++
		return nil
	}
	out.Can = append(out.Can, Subset{machines, p})
	return nil
}

// least is the smaller of two numbers, of which either may be NaN.
func least(a, b float64) float64 {
	if b < a || math.IsNaN(a) {
		return b
	}
	return a
}

// machinesIn are the machines of a set of those that may be moved.
func machinesIn(k *optimize.Model, set uint32) []int {
	var out []int
	for n, i := range k.Movable {
		if set>>n&1 != 0 {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}
