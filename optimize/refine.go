package optimize

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// refine looks, among the plans whose total is at most Spare above the least, for
// one that leaves more machines alone, and then for the one whose couplings end
// closest without another machine moved: a machine that the crew need not touch
// is worth more than couplings closer than the aim. Machines are left out one by
// one, the one that moves least first, as far as some work goes; not in a long train,
// where that takes as long as all else.
func (m *Solver) refine(ctx context.Context, least bnb.Result) mip.Steps {
	const solves, long, veryLong = 60, 12, 24 // programs for each of the two; machines that move
	best := least.Steps
	effort := m.Model.efforts(best)
	left := solves
	if len(effort) > long {
		left = 0
	}
	for _, block := range slices.SortedFunc(maps.Keys(effort), func(a, b int) int {
		return cmp.Or(cmp.Compare(effort[a], effort[b]), cmp.Compare(a, b))
	}) {
		moved := m.Model.efforts(best)
		if _, is := moved[block]; !is || left <= 0 {
			continue
		}
		delete(moved, block)
		r := m.closer(ctx, moved, least, nil, left)
		if left -= max(1, r.Solves); r.Steps != nil {
			best = r.Steps
		}
	}
	if len(effort) > veryLong { // hardly any coupling ends closer
		return best
	}
	if r := m.closer(ctx, m.Model.efforts(best), least, best, solves); r.Steps != nil {
		best = r.Steps
	}
	return best
}

// closer looks for the plan whose couplings end closest with a total at most Spare
// above the least, no block moved but some. start is such a plan; nil: none is known.
// solves is the most cone programs.
func (m *Solver) closer(ctx context.Context, moved map[int]float64, least bnb.Result, start mip.Steps,
	solves int) bnb.Result {
	goal := mip.Goal{LeastUse: true, MostUse: math.Min(1, math.Max(m.Plan.Aim, m.Model.worst(least.Steps))),
		Cap: least.Value * (1 + Spare)}
	all := m.Model
	trial := all.Within(func(k *Model) {
		for v := range k.Problem.Vars {
			if _, is := moved[k.Problem.Vars[v].Block]; !is {
				k.Problem.Vars[v].Fix()
			}
		}
	})
	opt := bnb.Options{Gap: NearLowest, Solves: solves}
	if start != nil {
		opt.Start = []mip.Steps{start}
	} else if r := bnb.Relax(ctx, &trial.Problem, mip.Goal{Use: goal.MostUse}); r.Impossible() || r.Bound > goal.Cap {
		return bnb.Result{}
	}
	m.Model = trial
	defer func() { m.Model = all }()
	return m.Find(ctx, goal, opt)
}

// efforts are what the blocks that some steps move cost.
func (k *Model) efforts(s mip.Steps) map[int]float64 {
	out := map[int]float64{}
	for v, n := range s {
		if n != 0 {
			x := &k.Problem.Vars[v]
			out[x.Block] += math.Abs(float64(n)) * x.Step * x.Weight
		}
	}
	return out
}

// worst is the largest use of a coupling limit by the linear forms.
func (k *Model) worst(s mip.Steps) float64 { return bnb.Use(&k.Problem, s) }
