package optimize

import (
	"math"
	"math/rand/v2"

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

// A Chance is how often a plan ends within all coupling limits in every
// condition, over many draws of the errors.
type Chance struct {
	Draws  int
	Within float64 // share of the draws
	Error  float64 // standard error of that share
	// Halved[s] is the share if the errors of source s were half as large, by the
	// same draws.
	Halved    [sources]float64
	Couplings []CouplingChance // of each coupling by itself
}

// A CouplingChance is that of one coupling.
type CouplingChance struct {
	Within float64          // share of the draws
	Worst  Limit            // what was past its limit most often; where nothing ever was, what is nearest to it
	Shares [sources]float64 // of the variance of Worst by source, vertical and horizontal added up; sum 1
}

// within95 is the half-width in standard deviations that holds 95 % of a
// Gaussian.
const within95 = 1.96

// chanceSeed makes the same plan have the same chance to the last digit.
const chanceSeed = 1

// chanceDraws is how many trains are drawn for a plan: the standard error of its
// chance is then at most 0.36 %.
const chanceDraws = 20_000

// Chance works out the chance of the plan. Nil: the plan moves nothing that can
// be checked (it has no moves), or the train file states no errors.
func (p *Plan) Chance(draws int) *Chance {
	if p.Moves == nil || p.Train.Errors == (train.Errors{}) {
		return nil
	}
	e := p.spoiled()
	out := &Chance{Draws: draws}
	failed := make([]int, len(e.tests))
	couplings := make([]int, len(p.Train.Couplings))
	all := e.run(draws, [sources]float64{1, 1, 1, 1}, failed, couplings)
	out.Within = float64(all) / float64(draws)
	out.Error = math.Sqrt(out.Within * (1 - out.Within) / float64(draws))
	for _, s := range Sources() {
		scale := [sources]float64{1, 1, 1, 1}
		scale[s] = 0.5
		if out.Halved[s] = out.Within; e.has(s) {
			out.Halved[s] = float64(e.run(draws, scale, nil, nil)) / float64(draws)
		}
	}
	for c := range couplings {
		out.Couplings = append(out.Couplings, e.ofCoupling(c, float64(couplings[c])/float64(draws), failed))
	}
	return out
}

// A spoiling is what may be off, and what that does to the coupling limits.
type spoiling struct {
	kinds []Source   // of each error
	tests []test     // every coupling limit in every condition
	rows  []spoilRow // two to a test, the second one empty for a gap
}

// A test is one coupling limit in one condition: the length of its two rows
// must be at most 1, or each of them.
type test struct {
	Limit
	each bool
}

// A spoilRow is a misalignment off what is wanted, as a share of its limit.
type spoilRow struct {
	planned float64
	terms   []spoilTerm
}

type spoilTerm struct {
	error int
	by    float64 // for one standard deviation
}

// has says whether the file states the source at all.
func (e *spoiling) has(s Source) bool {
	for i := range e.rows {
		for _, t := range e.rows[i].terms {
			if e.kinds[t.error] == s {
				return true
			}
		}
	}
	return false
}

// run counts the draws within all limits; failed, for each test, those past it,
// and couplings, for each, those within all of its own, unless they are nil.
func (e *spoiling) run(draws int, scale [sources]float64, failed, couplings []int) (within int) {
	r := rand.New(rand.NewPCG(chanceSeed, 0))
	z := make([]float64, len(e.kinds))
	bad := make([]bool, len(couplings))
	for range draws {
		for i, kind := range e.kinds {
			z[i] = scale[kind] * r.NormFloat64()
		}
		good := true
		clear(bad)
		for n := range e.tests {
			if e.keeps(n, z) {
				continue
			}
			good = false
			if failed == nil {
				break
			}
			failed[n]++
			bad[e.tests[n].Coupling] = true
		}
		if good {
			within++
		}
		for c := range bad {
			if !bad[c] {
				couplings[c]++
			}
		}
	}
	return within
}

// keeps says whether a test is passed with some errors.
func (e *spoiling) keeps(n int, z []float64) bool {
	v, h := e.rows[2*n].at(z), e.rows[2*n+1].at(z)
	if e.tests[n].each {
		return math.Abs(v) <= 1 && math.Abs(h) <= 1
	}
	return v*v+h*h <= 1
}

func (r *spoilRow) at(z []float64) float64 {
	sum := r.planned
	for _, t := range r.terms {
		sum += t.by * z[t.error]
	}
	return sum
}

// ofCoupling is what is to be said of coupling c.
func (e *spoiling) ofCoupling(c int, within float64, failed []int) CouplingChance {
	worst := -1
	nearer := func(n, than int) bool {
		if failed[n] != failed[than] {
			return failed[n] > failed[than]
		}
		size := func(n int) float64 { return math.Hypot(e.rows[2*n].planned, e.rows[2*n+1].planned) }
		return size(n) > size(than)
	}
	for n := range e.tests {
		if e.tests[n].Coupling == c && (worst < 0 || nearer(n, worst)) {
			worst = n
		}
	}
	out := CouplingChance{Within: within, Worst: e.tests[worst].Limit}
	var sum float64
	for _, r := range e.rows[2*worst : 2*worst+2] {
		for _, t := range r.terms {
			out.Shares[e.kinds[t.error]] += t.by * t.by
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
