package ways

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/optimize/robust"
)

// poolBackOffs is how many back-offs are tried for the chance of a pool.
const poolBackOffs = 5

// likely looks for the least total with a chance: limits are backed off by a number of
// standard deviations of their own errors, and the smallest number that is enough is
// narrowed down, a short search at a time.
func (s *poolSearch) likely(q *Question, starts []mip.Steps) finding {
	all := s.solver(nil)
	out := finding{bound: func(ctx context.Context) float64 { return all.LeastProven(ctx, all.Model, q.Use) }}
	wanted := quantileOf(q.needed())
	low := math.Max(0, robust.Quantile(q.Chance))
	last := &s.Plans[0]
	plan := func(p *PooledPlan) *optimize.Plan {
		return &optimize.Plan{Result: optimize.Result{Train: s.Base.Train, Moves: p.Moves, Planned: p.state}}
	}
	high := math.Max(low+0.5, robust.EvenBackOff(plan(last), q.Chance))
	offLow, offHigh := math.NaN(), math.NaN()
	steps := slices.Clone(starts)
	trial := &Pool{Base: s.Base, known: map[string]int{}} // checked plans of this search alone
	for range poolBackOffs {
		k := (low + high) / 2
		if offLow < 0 && offHigh >= 0 {
			k = low + (high-low)*math.Min(0.85, math.Max(0.15, -offLow/(offHigh-offLow)))
		}
		short := robust.BackOff(plan(last), k)
		if slices.Min(short) < robust.Tightest {
			high, offHigh = k, math.NaN()
			continue
		}
		m := s.solver(robust.BackedOff(short))
		solves := s.programs(partChance / poolBackOffs)
		r := m.Find(s.ctx, mip.Goal{Use: 1}, bnb.Options{Gap: poolGap, Solves: solves, Start: steps})
		out.solves += m.Plan.Solves
		at := -1
		if r.Steps != nil {
			at = trial.add(s.model, r.Steps)
		}
		if at < 0 {
			high, offHigh = k, math.NaN()
			continue
		}
		last = &trial.Plans[at]
		steps, out.steps = append(steps, r.Steps), append(out.steps, r.Steps)
		off := quantileOf(last.Chance) - wanted
		if off >= 0 {
			high, offHigh = k, off
		} else {
			low, offLow = k, off
		}
		if high-low < robust.NearBackOff {
			break
		}
	}
	return out
}

// quantileOf is the quantile of a share of optimize.Draws.
func quantileOf(share float64) float64 {
	return robust.Quantile(math.Min(math.Max(share, 0.5/robust.Draws), 1-0.5/robust.Draws))
}
