package socp

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A cone of a test: rows (a | h) of G and h, head first.
type rows [][]float64

// program puts cones together; every |x_j| ≤ bound.
func program(cost []float64, bound float64, cones ...rows) *Program {
	p := &Program{Cost: cost, Start: []int{0}}
	for range cost {
		p.Bound = append(p.Bound, bound)
	}
	for _, c := range cones {
		p.Cones = append(p.Cones, len(c))
		for _, row := range c {
			for j, v := range row[:len(cost)] {
				if v != 0 {
					p.Col, p.Val = append(p.Col, j), append(p.Val, v)
				}
			}
			p.Start = append(p.Start, len(p.Col))
			p.H = append(p.H, row[len(cost)])
		}
	}
	return p
}

// disc is |x − (a, b)| ≤ radius for two variables.
func disc(a, b, radius float64) rows {
	return rows{{0, 0, radius}, {-1, 0, -a}, {0, -1, -b}}
}

func TestKnownAnswers(t *testing.T) {
	// Two unit discs at distance 2a < 2 meet in two points at height
	// ±√(1 − a²) = ±√((1 − a)(1 + a)).
	lens := func(gap float64) float64 {
		a := 1 - gap/2
		return -math.Sqrt((1 - a) * (1 + a))
	}
	r2 := math.Sqrt2
	cases := []struct {
		name string
		p    *Program
		want float64
		x    []float64 // nil: not unique or not checked
	}{
		{"lowest point of a disc", program([]float64{1, 1}, 5, disc(1, 2, 1)), 3 - r2, []float64{1 - r2/2, 2 - r2/2}},
		{"discs overlapping by 1e-6", program([]float64{0, 1}, 3, disc(0, 0, 1), disc(2-1e-6, 0, 1)), lens(1e-6),
			[]float64{1 - 5e-7, lens(1e-6)}},
		{"discs overlapping by 1e-4", program([]float64{0, 1}, 3, disc(0, 0, 1), disc(2-1e-4, 0, 1)), lens(1e-4), nil},
		{"a redundant limit changes nothing", program([]float64{1, 1}, 5, disc(1, 2, 1), disc(1, 2, 100), rows{{1, 0, 50}}),
			3 - r2, []float64{1 - r2/2, 2 - r2/2}},
		{"large offsets", program([]float64{1, 1}, 2e6, disc(1e6, -1e6, 1)), -r2, nil},
		{"half-lines only: min x + 2y, x + y ≥ 1, x, y ≥ 0", program([]float64{1, 2}, 9, rows{{-1, -1, -1}},
			rows{{-1, 0, 0}}, rows{{0, -1, 0}}), 1, []float64{1, 0}},
		{"absolute value: min t, |x − 0.4| ≤ t, x ≥ 1", program([]float64{0, 1}, 9, rows{{1, -1, 0.4}},
			rows{{-1, -1, -0.4}}, rows{{-1, 0, -1}}), 0.6, []float64{1, 0.6}},
		{"a cone of dimension 2 is the same", program([]float64{0, 1}, 9, rows{{0, -1, 0}, {-1, 0, -0.4}},
			rows{{-1, 0, -1}}), 0.6, []float64{1, 0.6}},
		// Least t with |(x, y, z)| ≤ t on x + y + z = 3 is √3 at (1, 1, 1).
		{"a cone of dimension 4", program([]float64{0, 0, 0, 1}, 9,
			rows{{0, 0, 0, -1, 0}, {-1, 0, 0, 0, 0}, {0, -1, 0, 0, 0}, {0, 0, -1, 0, 0}},
			rows{{-1, -1, -1, 0, -3}}), math.Sqrt(3), []float64{1, 1, 1, math.Sqrt(3)}},
		{"a constant row in a disc: |(x, 0.6)| ≤ 1", program([]float64{1}, 5, rows{{0, 1}, {-1, 0}, {0, 0.6}}), -0.8,
			[]float64{-0.8}},
		{"a constant half-line and a constant disc that hold", program([]float64{1}, 5, rows{{0, 0}},
			rows{{0, 5}, {0, 3}, {0, 4}}, rows{{-1, 2}}), -2, []float64{-2}},
		{"a variable in no row and without cost", program([]float64{1, 0, 0}, 5, rows{{-1, 0, 0, 2}}), -2,
			[]float64{-2, 0, 0}},
		{"the cost is zero", program([]float64{0, 0}, 5, disc(1, 2, 1)), 0, nil},
		{"no variable", program(nil, 5, rows{{1}}), 0, []float64{}},
		{"no row", program([]float64{0}, 5), 0, []float64{0}},
		{"the right-hand side is zero: min t, |x| ≤ t", program([]float64{0, 1}, 5,
			rows{{0, -1, 0}, {-1, 0, 0}, {0, 0, 0}}), 0, []float64{0, 0}},
	}
	var s Solver
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := s.Solve(c.p, Settings{})
			require.Equal(t, Optimal, r.Status)
			assert.False(t, r.Relaxed)
			sound(t, c.p, r)
			assert.InDelta(t, c.want, r.Value, 1e-8)
			bounds(t, c.p, r)
			// A sum of large h'z costs its rounding error.
			assert.InDelta(t, c.want, r.Bound, 1e-8+1e-13*maxAbs(c.p.H))
			for j, x := range c.x {
				require.False(t, math.IsNaN(r.X[j]))
				assert.InDelta(t, x, r.X[j], 1e-6, "x%d", j)
			}
		})
	}
}

// sound holds a result with a point against its program: finite, in the cones,
// to the tolerances of Settings.
func sound(t *testing.T, p *Program, r Result) {
	t.Helper()
	require.Len(t, r.X, len(p.Cost))
	require.Len(t, r.Z, len(p.H))
	require.Len(t, r.S, len(p.H))
	value := 0.0
	left := append([]float64(nil), p.Cost...)
	for j, x := range r.X {
		require.True(t, finite(x))
		value += p.Cost[j] * x
	}
	assert.InDelta(t, value, r.Value, 1e-12*math.Max(1, math.Abs(value)))
	row := 0
	for _, d := range p.Cones {
		size := math.Max(1, maxAbs(p.H[row:row+d]))
		for i := row; i < row+d; i++ {
			require.True(t, finite(r.Z[i]))
			gx, abs := 0.0, 0.0
			for e := p.Start[i]; e < p.Start[i+1]; e++ {
				gx += p.Val[e] * r.X[p.Col[e]]
				abs += math.Abs(p.Val[e] * r.X[p.Col[e]])
				left[p.Col[e]] += p.Val[e] * r.Z[i]
			}
			allowed := 1e-9*size + 1e-14*abs
			if r.Relaxed {
				allowed += 2e-8
			}
			require.LessOrEqual(t, math.Abs(p.H[i]-gx-r.S[i]), allowed, "row %d", i)
		}
		require.GreaterOrEqual(t, r.S[row], tail(r.S[row+1:row+d])*(1-1e-15), "s in cone at row %d", row)
		require.GreaterOrEqual(t, r.Z[row], tail(r.Z[row+1:row+d])*(1-1e-15), "z in cone at row %d", row)
		row += d
	}
	for j := range left {
		require.LessOrEqual(t, math.Abs(left[j]), 3e-9*math.Max(1, maxAbs(p.Cost)), "dual residual of column %d", j)
	}
}

func TestNothingFeasible(t *testing.T) {
	cases := []struct {
		name string
		p    *Program
	}{
		{"discs 1 apart", program([]float64{0, 1}, 3, disc(0, 0, 1), disc(3, 0, 1))},
		{"discs 1e-3 apart", program([]float64{0, 1}, 3, disc(0, 0, 1), disc(2+1e-3, 0, 1))},
		{"discs 1e-6 apart", program([]float64{0, 1}, 3, disc(0, 0, 1), disc(2+1e-6, 0, 1))},
		{"discs 1e-6 apart without cost", program([]float64{0, 0}, 3, disc(0, 0, 1), disc(2+1e-6, 0, 1))},
		{"x ≥ 1 and x ≤ 0.999999", program([]float64{1}, 5, rows{{-1, -1}}, rows{{1, 0.999999}})},
		{"a constant half-line below zero", program([]float64{1}, 5, rows{{0, -1e-12}}, rows{{1, 1}})},
		{"a constant disc of which the offset is outside", program([]float64{1}, 5, rows{{0, 5}, {0, 3}, {0, 4.00001}},
			rows{{1, 1}})},
		{"a negative radius", program([]float64{1, 0}, 5, disc(0, 0, -1e-3))},
	}
	var s Solver
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := s.Solve(c.p, Settings{})
			require.Equal(t, Infeasible, r.Status)
			assert.Equal(t, math.Inf(1), r.Bound)
			assert.Nil(t, r.X)
			assert.True(t, math.IsNaN(r.Value))
			proves(t, c.p, r.Z)
		})
	}
}

func TestNoInterior(t *testing.T) {
	// On x + y = 0.3 in the unit disc, x + 2y = 0.6 − x is least at the largest x:
	// (x, y) = (0.15, 0.15) + √(1 − 0.045) (1, −1)/√2.
	chord := 0.45 - math.Sqrt(0.955/2)
	cases := []struct {
		name  string
		p     *Program
		want  float64
		below float64 // how far the value may lie under it: Relaxation lets it out
	}{
		{"x ≥ 1 and x ≤ 1", program([]float64{1}, 5, rows{{-1, -1}}, rows{{1, 1}}), 1, 1e-8},
		{"a zero tolerance on x + y, and a cost", program([]float64{1, 2}, 5, rows{{1, 1, 0.3}}, rows{{-1, -1, -0.3}},
			disc(0, 0, 1)), chord, 1e-8},
		{"a disc of radius zero", program([]float64{1, 1}, 5, disc(0.25, 0.5, 0)), 0.75, 1e-8},
		// The lens of relaxed discs is 2√(2e-9) = 9e-5 high.
		{"discs touching", program([]float64{0, 1}, 5, disc(0, 0, 1), disc(2, 0, 1)), 0, 7e-5},
		{"discs touching, cost across", program([]float64{1, 0}, 5, disc(0, 0, 1), disc(2, 0, 1)), 1, 1e-8},
	}
	var s Solver
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := s.Solve(c.p, Settings{})
			require.Equal(t, Optimal, r.Status)
			sound(t, c.p, r)
			bounds(t, c.p, r)
			assert.GreaterOrEqual(t, r.Value, c.want-c.below)
			assert.LessOrEqual(t, r.Value, c.want+1e-8)
			assert.LessOrEqual(t, r.Bound, c.want)
			assert.GreaterOrEqual(t, r.Bound, c.want-c.below)
		})
	}
}
