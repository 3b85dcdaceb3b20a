package socp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// planted is a random program whose optimum is known because it was chosen: x,
// and s and z in K with s ∘ z = 0; then h = Gx + s and c = −G'z make both
// feasible, and c'x = −h'z. Cones have dimension 1 to 5. Also returns c'x.
func planted(n int, rng *rand.Rand) (*Program, float64) {
	p := &Program{Start: []int{0}, Cost: make([]float64, n), Bound: make([]float64, n)}
	x := make([]float64, n)
	for j := range x {
		x[j] = rng.NormFloat64()
		p.Bound[j] = 10 + math.Abs(x[j])
	}
	for range 3 * n {
		d := 1 + rng.IntN(5)
		p.Cones = append(p.Cones, d)
		s, z := complementary(d, rng)
		near := rng.IntN(n) // the cone's columns lie within a band
		for i := range d {
			h := s[i]
			for j := near; j < min(n, near+5); j++ {
				if rng.IntN(4) == 0 && j > near {
					continue
				}
				v := rng.NormFloat64()
				p.Col, p.Val = append(p.Col, j), append(p.Val, v)
				h += v * x[j]
				p.Cost[j] -= v * z[i]
			}
			p.H, p.Start = append(p.H, h), append(p.Start, len(p.Col))
		}
	}
	return p, dot(p.Cost, x)
}

// complementary points of a cone: one inside and the other zero, or both on the
// border.
func complementary(d int, rng *rand.Rand) (s, z []float64) {
	s, z = make([]float64, d), make([]float64, d)
	for i := 1; i < d; i++ {
		s[i] = rng.NormFloat64()
	}
	a, b := 0.1+rng.Float64(), 0.1+rng.Float64()
	switch length := tail(s[1:]); {
	case d > 1 && rng.IntN(3) == 0: // both on the border, z along −s
		s[0], z[0] = length, b
		for i := 1; i < d; i++ {
			z[i] = -b * s[i] / length
		}
	case rng.IntN(2) == 0: // z inside, s zero
		z[0] = length + b
		copy(z[1:], s[1:])
		clear(s)
	default:
		s[0] = length + a
	}
	return s, z
}

func TestPlanted(t *testing.T) {
	var s Solver
	for seed := range trains.Draws(60, 400) {
		rng := rand.New(rand.NewPCG(uint64(seed), 7))
		p, want := planted(2+seed%40, rng)
		r := s.Solve(p, Settings{})
		require.Equal(t, Optimal, r.Status, "seed %d", seed)
		require.False(t, r.Relaxed, "seed %d", seed)
		sound(t, p, r)
		require.True(t, finite(r.Value))
		require.InDelta(t, want, r.Value, 4e-9*math.Max(1, math.Abs(want)), "seed %d", seed)
		bounds(t, p, r)
		require.LessOrEqual(t, r.Bound, want+1e-12*math.Max(1, math.Abs(want)))
		require.InDelta(t, want, r.Bound, 1e-7*math.Max(1, math.Abs(want)), "seed %d", seed)
	}
}

// A program made infeasible by z inside K: its last half-line is chosen so that
// G'z = 0 and −h'z = 0.5.
func TestPlantedInfeasible(t *testing.T) {
	var s Solver
	for seed := range 200 {
		rng := rand.New(rand.NewPCG(uint64(seed), 8))
		n := 2 + seed%12
		p, _ := planted(n, rng)
		left, value := make([]float64, n), 0.0
		row := 0
		for _, d := range p.Cones {
			z := make([]float64, d)
			for i := 1; i < d; i++ {
				z[i] = rng.NormFloat64()
			}
			z[0] = tail(z) + rng.Float64()
			for i := range d {
				value -= p.H[row] * z[i]
				for e := p.Start[row]; e < p.Start[row+1]; e++ {
					left[p.Col[e]] -= p.Val[e] * z[i]
				}
				row++
			}
		}
		for j, v := range left {
			p.Col, p.Val = append(p.Col, j), append(p.Val, v)
		}
		p.Start, p.H, p.Cones = append(p.Start, len(p.Col)), append(p.H, value-0.5), append(p.Cones, 1)
		r := s.Solve(p, Settings{})
		require.Equal(t, Infeasible, r.Status, "seed %d", seed)
		require.Equal(t, math.Inf(1), r.Bound)
		proves(t, p, r.Z)
	}
}

func TestUnknownBounds(t *testing.T) {
	inf := math.Inf(1)
	var s Solver
	p := program([]float64{1, 1}, inf, disc(1, 2, 1))
	r := s.Solve(p, Settings{})
	require.Equal(t, Optimal, r.Status)
	require.Equal(t, math.Inf(-1), r.Bound, "no bound where a residual costs infinitely much")
	sound(t, p, r)

	r = s.Solve(program([]float64{0, 1}, inf, disc(0, 0, 1), disc(3, 0, 1)), Settings{})
	require.Equal(t, Infeasible, r.Status)

	// x ≥ 2 and x ≤ 1: the ray (1, 1) has no residual at all.
	r = s.Solve(program([]float64{1}, inf, rows{{-1, -2}}, rows{{1, 1}}), Settings{})
	require.Equal(t, Infeasible, r.Status)
}

func TestUnbounded(t *testing.T) {
	// Callers promise that this does not happen; it must end without a claim.
	var s Solver
	for name, p := range map[string]*Program{
		"min −x, x ≥ 0":             program([]float64{-1}, math.Inf(1), rows{{-1, 0}}),
		"a cost in an empty column": program([]float64{0, 1}, math.Inf(1), rows{{-1, 0, 0}}),
	} {
		r := s.Solve(p, Settings{})
		require.Equal(t, Uncertain, r.Status, name)
		require.Equal(t, math.Inf(-1), r.Bound, name)
	}
}

func TestMalformed(t *testing.T) {
	good := func() *Program { return program([]float64{1, 1}, 5, disc(1, 2, 1)) }
	require.NoError(t, good().Check())
	cases := map[string]func(p *Program){
		"cost is not a number": func(p *Program) { p.Cost[0] = math.NaN() },
		"bounds missing":       func(p *Program) { p.Bound = p.Bound[:1] },
		"negative bound":       func(p *Program) { p.Bound[0] = -1 },
		"cone without rows":    func(p *Program) { p.Cones = append(p.Cones, 0) },
		"more rows in cones":   func(p *Program) { p.Cones[0] = 4 },
		"starts missing":       func(p *Program) { p.Start = p.Start[:3] },
		"start beyond entries": func(p *Program) { p.Start[3] = 7 },
		"starts fall":          func(p *Program) { p.Start[1], p.Start[2] = 1, 0 },
		"column out of range":  func(p *Program) { p.Col[0] = 2 },
		"column named twice":   func(p *Program) { p.Start[2], p.Col[1] = 2, 0; p.Start[1] = 0 },
		"value is infinite":    func(p *Program) { p.Val[0] = math.Inf(1) },
		"right-hand side":      func(p *Program) { p.H[0] = math.Inf(1) },
		"values and columns":   func(p *Program) { p.Val = p.Val[:1] },
		"no start for any row": func(p *Program) { p.Start = nil },
	}
	for name, spoil := range cases {
		p := good()
		spoil(p)
		require.Error(t, p.Check(), name)
		require.Panics(t, func() { new(Solver).Solve(p, Settings{}) }, name)
	}
}
