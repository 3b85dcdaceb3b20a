package optimize

import (
	"cmp"
	"math"
	"slices"

	"leastmove/train"
)

// This file says how sure it is that a plan ends within the limits, the train
// file's [errors] given. Each error is independent and Gaussian with a standard
// deviation of its half-width (95 %) over 1.96:
//
//	offset    of a found offset, at each coupling, vertical and horizontal
//	angle     of a found angle, likewise
//	placing   of the side move at each foot station of a machine that is moved
//	growth    of all growth of a machine, as a share of it
//
// An error moves every misalignment by a linear form, worked out about the plan:
// what the plan itself leaves is that of true geometry. The same error is there
// in every condition. The running shift of gear shafts, the packs (a shim is as
// thick as it is marked) and what is wanted count as exact.

// A Source is one kind of error.
type Source int

const (
	FromOffset Source = iota
	FromAngle
	FromPlacing
	FromGrowth
	sources
)

// String is the source in words.
func (s Source) String() string {
	return [...]string{"found offsets", "found angles", "placing of side moves", "growth"}[s]
}

// Sources are all of them.
func Sources() []Source { return []Source{FromOffset, FromAngle, FromPlacing, FromGrowth} }

// A Measurement is one thing that was measured or set, with an error of its own
// in each plane or at each station. Indices that do not apply are -1.
type Measurement struct {
	Source   Source
	Coupling int // of a found offset or angle
	Machine  int // of side moves or growth
}

// A Probability is how often a plan ends within all coupling limits in every
// condition, over many draws of the errors.
type Probability struct {
	Draws  int
	Within float64 // share of the draws
	Error  float64 // standard error of that share
	// Halved[s] is the share if the errors of source s were half as large, by the
	// same draws.
	Halved    [sources]float64
	Better    []BetterProbability   // of each measurement better by half, by the same draws: the largest share first
	Couplings []CouplingProbability // of each coupling by itself
}

// A BetterProbability is the chance if one measurement were better by half.
type BetterProbability struct {
	Measurement
	Within float64 // share of the draws
}

// A CouplingProbability is that of one coupling.
type CouplingProbability struct {
	Within float64          // share of the draws
	Worst  Limit            // what was past its limit most often; where nothing ever was, what is nearest to it
	Shares [sources]float64 // of the variance of Worst by source, vertical and horizontal added up; sum 1
}

// chanceSeed makes the same plan have the same chance to the last digit.
const chanceSeed = 1

// chanceDraws is how many trains are drawn for a plan: the standard error of its
// chance is then at most 0.36 %.
const chanceDraws = 20_000

// MonteCarlo works out the chance of the plan. Nil: the plan moves nothing that can
// be checked (it has no moves), or the train file states no errors.
func (p *Plan) MonteCarlo(draws int) *Probability { return p.monteCarlo(draws, chanceSeed) }

// monteCarlo is Chance with draws of a seed.
func (p *Plan) monteCarlo(draws int, seed uint64) *Probability {
	if p.Moves == nil || p.Train.Errors == (train.Errors{}) {
		return nil
	}
	e := p.errorModel()
	tally := e.run(draws, seed)
	share := func(n int) float64 { return float64(n) / float64(draws) }
	out := &Probability{Draws: draws, Within: share(tally.within)}
	out.Error = standardError(out.Within, draws)
	for _, s := range Sources() {
		out.Halved[s] = share(tally.halved[s])
	}
	for n, m := range e.single {
		out.Better = append(out.Better, BetterProbability{m, share(tally.better[n])})
	}
	slices.SortStableFunc(out.Better, func(a, b BetterProbability) int { return cmp.Compare(b.Within, a.Within) })
	for c := range p.Train.Couplings {
		out.Couplings = append(out.Couplings, e.ofCoupling(c, share(tally.couplings[c]), tally.failed))
	}
	return out
}

// standardError is that of a share that so many draws gave.
func standardError(share float64, draws int) float64 {
	return math.Sqrt(share * (1 - share) / float64(draws))
}

// ofCoupling is what is to be said of coupling c.
func (e *errorModel) ofCoupling(c int, within float64, failed []int) CouplingProbability {
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
	out := CouplingProbability{Within: within, Worst: e.tests[worst].Limit}
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
