package optimize

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// poolBackOffs is how many back-offs are tried for the chance of a pool.
const poolBackOffs = 5

// likely looks for the least total with a chance: limits are backed off by a number of
// standard deviations of their own errors, and the smallest number that is enough is
// narrowed down, a short search at a time.
func (s *poolSearch) likely(q *Question, starts []mip.Steps) finding {
	all := s.solver(nil)
	out := finding{bound: func(ctx context.Context) float64 { return all.least(ctx, all.Model, q.Use) }}
	wanted := quantileOf(q.needed())
	low := math.Max(0, quantile(q.Chance))
	last := &s.Plans[0]
	plan := func(p *PooledPlan) *Plan {
		return &Plan{Train: s.Base.Train, Moves: p.Moves, Planned: p.state}
	}
	tests := 2 * len(plan(last).errorModel().tests)
	high := math.Max(low+0.5, quantile(1-(1-q.Chance)/float64(tests)))
	offLow, offHigh := math.NaN(), math.NaN()
	steps := slices.Clone(starts)
	trial := &Pool{Base: s.Base, known: map[string]int{}} // checked plans of this search alone
	for range poolBackOffs {
		k := (low + high) / 2
		if offLow < 0 && offHigh >= 0 {
			k = low + (high-low)*math.Min(0.85, math.Max(0.15, -offLow/(offHigh-offLow)))
		}
		short := plan(last).errorModel().backOff(k, true)
		if slices.Min(short) < tightest {
			high, offHigh = k, math.NaN()
			continue
		}
		m := s.solver(backedOff(short))
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
		if high-low < nearBackOff {
			break
		}
	}
	return out
}

// quantileOf is the quantile of a share of chanceDraws.
func quantileOf(share float64) float64 {
	return quantile(math.Min(math.Max(share, 0.5/chanceDraws), 1-0.5/chanceDraws))
}
