package robust

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"leastmove/optimize"
)

// This file draws errors and counts which limits are kept with them.

// An errorModel is what may be off, and what that does to the coupling limits.
type errorModel struct {
	single []optimize.Measurement // what was measured or set
	of     []int                  // of each error: its measurement
	tests  []test                 // every coupling limit in every condition
	rows   []jacobianRow          // two to a test, the second one empty for a gap
}

// A test is one coupling limit in one condition: the length of its two rows
// must be at most 1, or each of them.
type test struct {
	optimize.Limit
	each  bool
	parts []part // its rows' terms by measurement
}

// A part is what one measurement's errors do to a test.
type part struct {
	single int
	source optimize.Source
	rows   [2][]jacobianEntry
}

// A jacobianRow is a misalignment off what is wanted, as a share of its limit.
type jacobianRow struct {
	planned float64
	entries []jacobianEntry
}

type jacobianEntry struct {
	error int
	by    float64 // for one standard deviation
}

// part sorts the rows' terms by measurement.
func (e *errorModel) part() {
	for n := range e.tests {
		t := &e.tests[n]
		for d := range 2 {
			for _, term := range e.rows[2*n+d].entries {
				single := e.of[term.error]
				at := slices.IndexFunc(t.parts, func(p part) bool { return p.single == single })
				if at < 0 {
					at = len(t.parts)
					t.parts = append(t.parts, part{single: single, source: e.single[single].Source})
				}
				t.parts[at].rows[d] = append(t.parts[at].rows[d], term)
			}
		}
	}
}

// A tally is how many draws kept which limits.
type tally struct {
	draws     int // that were made
	within    int
	failed    []int                     // of each test: the draws past it
	couplings []int                     // of each coupling: the draws within all of its own
	halved    [optimize.SourceCount]int // within, were the errors of a source half as large
	better    []int                     // within, were those of a measurement half as large
}

// run draws errors and counts. The errors of a source or a measurement made half
// as large are looked at with every draw: what they do is linear.
func (e *errorModel) run(ctx context.Context, draws int, seed uint64) tally {
	couplings := 0
	for _, t := range e.tests {
		couplings = max(couplings, t.Coupling+1)
	}
	out := tally{failed: make([]int, len(e.tests)), couplings: make([]int, couplings), better: make([]int, len(e.single))}
	r := rand.New(rand.NewPCG(seed, 0))
	z := make([]float64, len(e.of))
	bad := make([]bool, couplings)
	none := int(optimize.SourceCount)
	fails := make([]bool, none+len(e.single)) // with a source's errors halved, with a measurement's
	seen := make([]int, len(fails))           // the last test whose terms have it in them
	by := make([][2]float64, len(fails))
	for i := range seen {
		seen[i] = -1
	}
	for n := range draws {
		if n%betweenLooks == 0 && ctx.Err() != nil && n*len(e.tests)*len(fails) >= lateWork {
			break
		}
		out.draws++
		draw(r, z)
		clear(bad)
		clear(fails)
		good := true
		for k := range e.tests {
			t, mark := &e.tests[k], n*len(e.tests)+k
			at := [2]float64{e.rows[2*k].planned, e.rows[2*k+1].planned}
			for i := range t.parts {
				p := &t.parts[i]
				if seen[p.source] != mark {
					seen[p.source], by[p.source] = mark, [2]float64{}
				}
				one := none + p.single
				seen[one], by[one] = mark, [2]float64{}
				for d := range p.rows {
					var sum float64
					for _, term := range p.rows[d] {
						sum += term.by * z[term.error]
					}
					at[d] += sum
					by[one][d] = sum
					by[p.source][d] += sum
				}
			}
			kept := t.keeps(at)
			if !kept {
				good, bad[t.Coupling] = false, true
				out.failed[k]++
			}
			for i := range fails {
				switch {
				case fails[i]:
				case seen[i] != mark:
					fails[i] = !kept
				default:
					fails[i] = !t.keeps([2]float64{at[0] - by[i][0]/2, at[1] - by[i][1]/2})
				}
			}
		}
		out.count(good, bad, fails)
	}
	return out
}

// count adds one draw.
func (c *tally) count(good bool, bad, fails []bool) {
	if good {
		c.within++
	}
	for i := range bad {
		if !bad[i] {
			c.couplings[i]++
		}
	}
	for i := range fails {
		switch {
		case fails[i]:
		case i < int(optimize.SourceCount):
			c.halved[i]++
		default:
			c.better[i-int(optimize.SourceCount)]++
		}
	}
}

// keeps says whether a test is passed at some misalignment.
func (t *test) keeps(at [2]float64) bool {
	if t.each {
		return math.Abs(at[0]) <= 1 && math.Abs(at[1]) <= 1
	}
	return at[0]*at[0]+at[1]*at[1] <= 1
}
