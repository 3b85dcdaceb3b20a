package ways

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/optimize/robust"
)

// This file has the searches for the rows of a pool.

// without leaves one machine alone.
func without(machine int) func(*optimize.Model) {
	return func(k *optimize.Model) {
		for v := k.First[machine]; v < k.First[machine+1]; v++ {
			k.Problem.Vars[v].Fix()
		}
	}
}

// total looks for the least total of a question, with one machine left alone where it
// says so.
func (s *poolSearch) total(q *Question, starts []mip.Steps, part float64) finding {
	var within func(*optimize.Model)
	if q.Machine >= 0 {
		within = without(q.Machine)
	}
	m := s.solver(within)
	r := m.Find(s.ctx, mip.Goal{Use: q.Use}, bnb.Options{Gap: poolGap, Solves: s.programs(part), Start: starts,
		Tries: s.tries(totalTries)})
	out := finding{solves: m.Plan.Solves, bound: func(ctx context.Context) float64 {
		if bound := m.Proven(ctx, r); !math.IsNaN(bound) {
			return bound
		}
		return m.LeastProven(ctx, m.Model, q.Use)
	}}
	out.none = r.Status == bnb.Impossible && math.IsInf(m.Proven(s.ctx, r), 1)
	if r.Steps != nil {
		out.steps = []mip.Steps{r.Steps}
	}
	return out
}

// cheapest is the machine of the plan so far whose leaving out promises the smallest
// total, without whole steps; -1: each of them is needed. Those are noted.
func (s *poolSearch) cheapest() int {
	best, least := -1, math.Inf(1)
	for _, i := range s.Plans[0].Machines {
		if s.ctx.Err() != nil {
			break
		}
		m := s.solver(without(i))
		r := bnb.Relax(s.ctx, &m.Model.Problem, mip.Goal{Use: s.use})
		s.Solves++
		if r.Bound < least {
			best, least = i, r.Bound
		}
		if r.Impossible() && m.Never(s.ctx, m.Model, s.use) {
			s.Needed = append(s.Needed, i)
		}
	}
	return best
}

// settled says whether the least total without one machine was found already.
func (s *poolSearch) settled(machine int) bool {
	c := machineChoice(s.model)
	if len(c.weight) > mostThings {
		return false
	}
	all := uint32(1)<<len(c.weight) - 1
	return slices.Contains(s.sets, all&^c.needs[s.model.First[machine]])
}

// leastPart is the last part of the way from wider shares of the limits to the lowest that
// is gone step by step.
const leastPart = 0.1

// closest looks for the lowest worst share, and then for the least total that has it.
func (s *poolSearch) closest(starts []mip.Steps) finding {
	m := s.solver(nil)
	low := m.Find(s.ctx, mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)},
		bnb.Options{Gap: robust.NearCentre, Solves: max(leastClosest, s.programs(partLowest)), Start: starts,
			Tries: s.tries(lowestTries)})
	out := finding{first: func(ctx context.Context) float64 { return m.Proven(ctx, low) }}
	if low.Steps == nil {
		out.solves = m.Plan.Solves
		return out
	}
	state := s.Base.Train.Check(m.Model.Moves(low.Steps))
	use := math.Min(1, state.Worst()+nearClosest)
	// From what is known at wider shares, closer and closer: each plan is near the one before.
	from := slices.Clone(starts)
	for part := 0.5; part > leastPart; part /= 2 {
		wider := use + part*math.Max(0, s.use-use)
		r := m.Find(s.ctx, mip.Goal{Use: wider},
			bnb.Options{Gap: poolGap, Solves: s.programs(partCloser), Start: from, Tries: s.tries(closerTries)})
		if r.Steps != nil {
			from = append(from, r.Steps)
		}
	}
	r := m.Find(s.ctx, mip.Goal{Use: use}, bnb.Options{
		Gap: poolGap, Solves: max(leastClosest, s.programs(partClosest)), Start: append(from, low.Steps),
		Tries: s.tries(closestTries),
	})
	out.bound = func(ctx context.Context) float64 { return m.Proven(ctx, r) }
	out.solves = m.Plan.Solves
	out.steps = append(out.steps, low.Steps)
	if r.Steps != nil {
		out.steps = append(out.steps, r.Steps)
	}
	return out
}

// fewest looks for a plan that moves fewer machines than the first of the pool: set by
// set, smallest first, those that do without whole steps searched with them, the one that
// promises the smallest total first.
func (s *poolSearch) fewest(q *Question, starts []mip.Steps) finding {
	var out finding
	c, left := machineChoice(s.model), s.programs(partFewest)
	if len(c.weight) > mostThings {
		return out
	}
	f := &sieve{choice: c, solver: s.solver(nil), task: s.model, use: q.Use, firm: true}
	first := 0.0
	out.first = func(context.Context) float64 { return first }
	for weight := 0; weight < len(s.Plans[0].Machines); weight++ {
		var open []candidate
		c.each(weight, func(set uint32) bool {
			if s.ctx.Err() != nil {
				left = 0
				return false
			}
			if f.missed(set) {
				return left > 0
			}
			left, out.solves = left-1, out.solves+1
			if r, _ := f.bound(s.ctx, set); r.Impossible() {
				f.learn(s.ctx, set)
				left, out.solves = left-len(c.weight)+weight, out.solves+len(c.weight)-weight
			} else {
				open = append(open, candidate{set, r.Bound})
			}
			return left > 0
		})
		slices.SortStableFunc(open, func(a, b candidate) int { return cmp.Compare(a.bound, b.bound) })
		none := f.firm && left > 0
		least := math.Inf(1)
		for n, o := range open {
			if left <= 0 {
				none = false
				break
			}
			if o.bound >= least {
				break
			}
			m := s.solver(c.only(o.set))
			solves := max(1, left/min(2, len(open)-n)) // all that is left for the last one
			r := m.Find(s.ctx, mip.Goal{Use: q.Use}, bnb.Options{Gap: poolGap, Solves: solves, Start: starts,
				Tries: s.tries(fewestTries) / min(2, len(open)-n)})
			left, out.solves = left-m.Plan.Solves, out.solves+m.Plan.Solves
			none = none && r.Status == bnb.Impossible && math.IsInf(m.Proven(s.ctx, r), 1)
			if r.Steps != nil {
				least = math.Min(least, r.Value)
				out.steps = append(out.steps, r.Steps)
			}
			if r.Status == bnb.Least {
				out.sets = append(out.sets, o.set)
			}
		}
		if !math.IsInf(least, 1) || left <= 0 {
			return out
		}
		if !none {
			// A set of this size may do: more machines may not be the fewest.
			f.firm = false
		}
		if f.firm {
			first = float64(weight + 1)
		}
	}
	return out
}
