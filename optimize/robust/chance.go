package robust

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
)

// chanceSeed makes the same plan have the same chance to the last digit.
const chanceSeed = 1

// Draws is how many trains are drawn for a plan: the standard error of its
// chance is then at most 0.36 %.
const Draws = 20_000

// fewestDraws is how many draws are enough for a chance where there is no time for all: the
// standard error is then at most 2.2 %. betweenLooks is how many are made between two looks
// at whether there is.
const fewestDraws, betweenLooks = 512, 32

// lateWork is how many limits, times what is halved, may be looked at after the context has
// ended: a plan that a clock cut has its chance too, by fewer draws.
const lateWork = 30_000_000

// MonteCarlo works out the chance of the plan. Nil: the plan moves nothing that can
// be checked (it has no moves), the train file states no errors, or it leaves open what no chance can be given
// without (train.Unstated). Where the context ends before all of the draws are made, those that
// were made count, if they are enough.
func MonteCarlo(ctx context.Context, p *optimize.Plan, draws int) *optimize.Probability {
	return monteCarlo(ctx, p, draws, chanceSeed)
}

// monteCarlo is MonteCarlo with draws of a seed.
func monteCarlo(ctx context.Context, p *optimize.Plan, draws int, seed uint64) *optimize.Probability {
	if p.Moves == nil || !p.Train.ChanceKnown() {
		return nil
	}
	e := newErrorModel(p)
	tally := e.run(ctx, draws, seed)
	if tally.draws < min(draws, fewestDraws) {
		return nil
	}
	draws = tally.draws
	share := func(n int) float64 { return float64(n) / float64(draws) }
	out := &optimize.Probability{Draws: draws, Within: share(tally.within)}
	out.Error = StandardError(out.Within, draws)
	for _, s := range optimize.Sources() {
		out.Halved[s] = share(tally.halved[s])
	}
	for n, m := range e.single {
		out.Better = append(out.Better, optimize.BetterProbability{Measurement: m, Within: share(tally.better[n])})
	}
	slices.SortStableFunc(out.Better, func(a, b optimize.BetterProbability) int { return cmp.Compare(b.Within, a.Within) })
	for c := range p.Train.Couplings {
		out.Couplings = append(out.Couplings, e.ofCoupling(c, share(tally.couplings[c]), tally.failed))
	}
	return out
}

// StandardError is that of a share that so many draws gave.
func StandardError(share float64, draws int) float64 {
	return math.Sqrt(share * (1 - share) / float64(draws))
}

// ofCoupling is what is to be said of coupling c.
func (e *errorModel) ofCoupling(c int, within float64, failed []int) optimize.CouplingProbability {
	worst := -1
	nearer := func(n, than int) bool {
		if failed[n] != failed[than] {
			return failed[n] > failed[than]
		}
		size := func(n int) float64 {
			v, h := e.rows[2*n].planned, e.rows[2*n+1].planned
			if e.tests[n].each {
				return math.Max(math.Abs(v), math.Abs(h))
			}
			return math.Hypot(v, h)
		}
		return size(n) > size(than)
	}
	for n := range e.tests {
		if e.tests[n].Coupling == c && (worst < 0 || nearer(n, worst)) {
			worst = n
		}
	}
	out := optimize.CouplingProbability{Within: within, Worst: e.tests[worst].Limit}
	var sum float64
	for _, r := range e.rows[2*worst : 2*worst+2] {
		for _, t := range r.entries {
			out.Shares[e.single[e.of[t.error]].Source] += t.by * t.by
			sum += t.by * t.by
		}
	}
	for s := range out.Shares {
		if sum > 0 {
			out.Shares[s] /= sum
		}
	}
	return out
}
