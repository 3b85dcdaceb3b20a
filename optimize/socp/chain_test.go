package socp

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// A chainOf n machine-like blocks: each has four moves x and their absolute
// values t, which cost; boxes on the moves; two discs on the feet; and six discs
// that tie it to the next block. 8 variables and 40 rows a block.
// A point is planted that misses the centres of the discs by miss times their
// radii: up to 1 the chain is feasible, well above it is not. Invented data.
func chainOf(n int, miss float64, rng *rand.Rand) *Program {
	const moves = 4
	p := &Program{Start: []int{0}}
	entry := func(j int, v float64) {
		p.Col = append(p.Col, j)
		p.Val = append(p.Val, v)
	}
	row := func(h float64) {
		p.H = append(p.H, h)
		p.Start = append(p.Start, len(p.Col))
	}
	cone := func(d int) { p.Cones = append(p.Cones, d) }
	normal := rng.NormFloat64
	planted := make([]float64, 2*moves*n)
	for j := range planted {
		planted[j] = 2*rng.Float64() - 1
	}
	// disc adds |A x + offset| ≤ radius over the columns from first on.
	disc := func(radius, size float64, columns []int) {
		row(radius)
		angle := 2 * math.Pi * rng.Float64()
		for _, off := range []float64{math.Cos(angle), math.Sin(angle)} {
			off *= miss * radius
			for _, j := range columns {
				v := size * normal()
				entry(j, v)
				off += v * planted[j]
			}
			row(off)
		}
		cone(3)
	}
	for b := range n {
		t, x := 2*moves*b, 2*moves*b+moves
		box := 2 + 3*rng.Float64()
		for j := range moves {
			p.Cost, p.Bound = append(p.Cost, 0.5+rng.Float64()), append(p.Bound, box)
			entry(x+j, 1)
			entry(t+j, -1)
			row(0)
			cone(1)
			entry(x+j, -1)
			entry(t+j, -1)
			row(0)
			cone(1)
			entry(x+j, 1)
			row(box)
			cone(1)
			entry(x+j, -1)
			row(box)
			cone(1)
		}
		for range moves {
			p.Cost, p.Bound = append(p.Cost, 0), append(p.Bound, box)
		}
		columns := []int{x, x + 1, x + 2, x + 3}
		for range 2 { // a foot in its hole
			disc(0.8+rng.Float64(), 0.5, columns)
		}
		if b == n-1 {
			continue
		}
		for _, j := range columns {
			columns = append(columns, j+2*moves)
		}
		for range 6 { // a coupling in a condition
			disc(0.1+0.3*rng.Float64(), 1, columns)
		}
	}
	return p
}

func TestChains(t *testing.T) {
	cases := []struct {
		name string
		miss float64
		want Status
		gap  float64 // Value − Bound, relative
	}{
		{"room to spare", 0, Optimal, 1e-8},
		{"some room", 0.8, Optimal, 1e-8},
		{"a thousandth of the radius left", 0.999, Optimal, 1e-8},
		// Multipliers are then large, and a primal residual within the tolerance
		// is worth that much more.
		{"little more than one feasible point", 1, Optimal, 1e-5},
		{"a fifth too tight", 1.2, Infeasible, 0},
		{"far too tight", 3, Infeasible, 0},
	}
	var s Solver
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for seed := range trains.Draws(24, 60) {
				p := chainOf(1+seed%8, c.miss, rand.New(rand.NewPCG(uint64(seed), 1)))
				if seed%8 == 0 && c.want == Infeasible {
					continue // one block has no coupling; its two discs may well meet
				}
				r := s.Solve(p, Settings{})
				require.Equal(t, c.want, r.Status, "seed %d", seed)
				if c.want == Infeasible {
					require.Equal(t, math.Inf(1), r.Bound)
					proves(t, p, r.Z)
					continue
				}
				require.False(t, r.Relaxed)
				sound(t, p, r)
				bounds(t, p, r)
				require.InDelta(t, r.Value, r.Bound, c.gap*math.Max(1, r.Value), "seed %d", seed)
			}
		})
	}
}

func TestCutoff(t *testing.T) {
	var s Solver
	for seed := range 40 {
		p := chainOf(2+seed%5, 0.8, rand.New(rand.NewPCG(uint64(seed), 3)))
		full := s.Solve(p, Settings{})
		require.Equal(t, Optimal, full.Status)

		below := s.Solve(p, Settings{Stop: true, Cutoff: 0.99 * full.Value})
		require.Equal(t, CutOff, below.Status, "a bound passes 99 %% of the optimum")
		assert.Greater(t, below.Bound, 0.99*full.Value)
		assert.Nil(t, below.X)
		assert.True(t, math.IsNaN(below.Value))
		bounds(t, p, below)
		assert.Less(t, below.Iterations, full.Iterations)

		above := s.Solve(p, Settings{Stop: true, Cutoff: 1.01 * full.Value})
		require.Equal(t, Optimal, above.Status, "no bound passes the optimum")
		assert.Equal(t, full.X, above.X)

		zero := s.Solve(p, Settings{Stop: true})
		require.Equal(t, CutOff, zero.Status, "a cutoff of zero is a cutoff")
	}
}

func TestRowsInAnyOrder(t *testing.T) {
	var s Solver
	for seed := range 20 {
		rng := rand.New(rand.NewPCG(uint64(seed), 4))
		p := chainOf(4, 0.8, rng)
		first := make([]int, len(p.Cones)+1)
		for k, d := range p.Cones {
			first[k+1] = first[k] + d
		}
		q := &Program{Cost: p.Cost, Bound: p.Bound, Start: []int{0}}
		for _, k := range rng.Perm(len(p.Cones)) {
			q.Cones = append(q.Cones, p.Cones[k])
			for i := first[k]; i < first[k+1]; i++ {
				for _, e := range rng.Perm(p.Start[i+1] - p.Start[i]) {
					q.Col = append(q.Col, p.Col[p.Start[i]+e])
					q.Val = append(q.Val, p.Val[p.Start[i]+e])
				}
				q.Start, q.H = append(q.Start, len(q.Col)), append(q.H, p.H[i])
			}
		}
		a, b := s.Solve(p, Settings{}), s.Solve(q, Settings{})
		require.Equal(t, Optimal, b.Status)
		require.True(t, finite(a.Value))
		require.InDelta(t, a.Value, b.Value, 4e-9*math.Max(1, a.Value))
		sound(t, q, b)
	}
}

func TestOtherUnits(t *testing.T) {
	// x in thousandths and the cost in 25.4ths is the same program.
	var s Solver
	for seed := range 20 {
		p := chainOf(3, 0.8, rand.New(rand.NewPCG(uint64(seed), 5)))
		a := s.Solve(p, Settings{})
		for i := range p.H {
			p.H[i] *= 1000
		}
		for j := range p.Cost {
			p.Bound[j] *= 1000
			p.Cost[j] *= 25.4
		}
		b := s.Solve(p, Settings{})
		require.Equal(t, Optimal, b.Status)
		require.True(t, finite(b.Value))
		require.InEpsilon(t, a.Value*25.4e3, b.Value, 4e-9)
		sound(t, p, b)
		bounds(t, p, b)
	}
}

// bits are all the numbers of a result.
func bits(r Result) []uint64 {
	out := []uint64{uint64(r.Status), uint64(r.Iterations), math.Float64bits(r.Value), math.Float64bits(r.Bound)}
	for _, list := range [][]float64{r.X, r.S, r.Z} {
		for _, v := range list {
			out = append(out, math.Float64bits(v))
		}
	}
	return out
}

// A Solver's past must not show: same program, same bits.
func TestSameBits(t *testing.T) {
	var used Solver
	for seed := range 30 {
		p := chainOf(1+seed%7, 0.9+0.02*float64(seed%8), rand.New(rand.NewPCG(uint64(seed), 6)))
		var fresh Solver
		a, b := used.Solve(p, Settings{}), fresh.Solve(p, Settings{})
		require.Equal(t, bits(a), bits(b))
	}
}

func TestMemoryIsReused(t *testing.T) {
	p := chainOf(5, 0.8, rand.New(rand.NewPCG(1, 1)))
	var s Solver
	s.Solve(p, Settings{})
	// The slices of the result are one allocation.
	assert.LessOrEqual(t, testing.AllocsPerRun(20, func() { s.Solve(p, Settings{}) }), 1.0)
	assert.LessOrEqual(t, testing.AllocsPerRun(20, func() { s.Solve(p, Settings{MaxIterations: 3}) }), 1.0,
		"three attempts")
}

func BenchmarkChain(b *testing.B) {
	for _, n := range []int{3, 5, 12, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := chainOf(n, 0.8, rand.New(rand.NewPCG(1, 1)))
			var s Solver
			b.ReportAllocs()
			for b.Loop() {
				if r := s.Solve(p, Settings{}); r.Status != Optimal {
					b.Fatal(r.Status)
				}
			}
		})
	}
}

func BenchmarkInfeasibleChain(b *testing.B) {
	for _, n := range []int{5, 12} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := chainOf(n, 1.2, rand.New(rand.NewPCG(1, 1)))
			var s Solver
			for b.Loop() {
				if r := s.Solve(p, Settings{}); r.Status != Infeasible {
					b.Fatal(r.Status)
				}
			}
		})
	}
}
