package robust

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"leastmove/optimize"
)

// This file counts the draws that keep all limits, and nothing else, for those who look at many plans.

// mostKept is how many errors a Sample keeps: 8 MB.
const mostKept = 1 << 20

// A Sample draws errors for many plans of one train, always the same, and keeps them. The zero value has drawn none
// yet.
type Sample struct {
	mu   sync.Mutex
	kept map[int][]float64 // by how many errors a draw has: Draws of them one after the other, in standard deviations
}

// ShareWithin is the share of so many draws, at most Draws, in which the plan ends within all limits: as
// Probability.Within. NaN: the context ended before.
func (s *Sample) ShareWithin(ctx context.Context, p *optimize.Plan, draws int) float64 {
	e := newErrorModel(p)
	count := len(e.of)
	if count*Draws > mostKept {
		return e.within(ctx, draws, chanceSeed)
	}
	all := s.drawn(count)
	return e.share(ctx, draws, func(draw int) []float64 { return all[draw*count : (draw+1)*count] })
}

// drawn are the errors of all draws.
func (s *Sample) drawn(count int) []float64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	all, is := s.kept[count]
	if !is {
		all = make([]float64, count*Draws)
		draw(rand.New(rand.NewPCG(chanceSeed, 0)), all)
		if s.kept == nil {
			s.kept = map[int][]float64{}
		}
		s.kept[count] = all
	}
	return all
}

func draw(r *rand.Rand, z []float64) {
	for i := range z {
		z[i] = r.NormFloat64()
	}
}

// within is the share of draws of a seed within all limits; NaN: the context ended before.
func (e *errorModel) within(ctx context.Context, draws int, seed uint64) float64 {
	r, z := rand.New(rand.NewPCG(seed, 0)), make([]float64, len(e.of))
	return e.share(ctx, draws, func(int) []float64 {
		draw(r, z)
		return z
	})
}

// share is the share of draws within all limits.
func (e *errorModel) share(ctx context.Context, draws int, errors func(draw int) []float64) float64 {
	couplings := e.byReach()
	count := 0
draw:
	for n := range draws {
		if n%betweenLooks == 0 && ctx.Err() != nil {
			return math.NaN()
		}
		z := errors(n)
		for i := range couplings {
			c := &couplings[i]
			var square float64
			for _, error := range c.errors {
				square += z[error] * z[error]
			}
			size := math.Sqrt(square)
			for _, t := range c.tests {
				if t.reach > size { // and so are those after it
					break
				}
				if !e.tests[t.test].keeps(e.at(t.test, z)) {
					continue draw
				}
			}
		}
		count++
	}
	return float64(count) / float64(draws)
}

// at is where errors take a test.
func (e *errorModel) at(test int, z []float64) (at [2]float64) {
	for d := range at {
		row := &e.rows[2*test+d]
		at[d] = row.planned
		for _, t := range row.entries {
			at[d] += t.by * z[t.error]
		}
	}
	return at
}

// A coupledTests is the tests of one coupling, those that the least errors break first.
type coupledTests struct {
	errors []int // that any of the tests knows
	tests  []reached
}

// A reached is a test that is kept with all errors of a smaller length than its reach, in standard deviations.
type reached struct {
	test  int
	reach float64
}

// roundedReach is by how much of a limit a reach is rounded down: far more than sums are off.
const roundedReach = 1e-9

// byReach sorts the tests by coupling and reach. What errors do to a row is at most their length times the row's, by
// Cauchy and Schwarz.
func (e *errorModel) byReach() []coupledTests {
	var out []coupledTests
	for n := range e.tests {
		for len(out) <= e.tests[n].Coupling {
			out = append(out, coupledTests{})
		}
		c := &out[e.tests[n].Coupling]
		var planned, square [2]float64
		for d := range 2 {
			row := &e.rows[2*n+d]
			planned[d] = math.Abs(row.planned)
			for _, t := range row.entries {
				square[d] += t.by * t.by
				if !slices.Contains(c.errors, t.error) {
					c.errors = append(c.errors, t.error)
				}
			}
		}
		reach := func(planned, square float64) float64 { return (1 - roundedReach - planned) / math.Sqrt(square) }
		r := reach(math.Hypot(planned[0], planned[1]), square[0]+square[1])
		if e.tests[n].each {
			r = min(reach(planned[0], square[0]), reach(planned[1], square[1])) // NaN: not known
		}
		c.tests = append(c.tests, reached{n, r})
	}
	for _, c := range out {
		slices.SortFunc(c.tests, func(a, b reached) int { return cmp.Compare(a.reach, b.reach) }) // NaN first
	}
	return out
}
