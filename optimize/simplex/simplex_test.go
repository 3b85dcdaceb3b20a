package simplex

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/socp"
)

// A program is what a Solver is told.
type program struct {
	lo, hi, weight, slope []float64
	a                     [][]float64
	b                     []float64
}

func (p *program) tell(s *Solver) {
	for j := range p.lo {
		s.Set(j, p.lo[j], p.hi[j], p.weight[j], p.slope[j])
	}
}

func (p *program) fresh() *Solver {
	s := New(len(p.lo))
	p.tell(s)
	for k, a := range p.a {
		s.Add(a, p.b[k])
	}
	return s
}

// bound is what multipliers of the half-spaces prove of the cost, times its price: weak duality, worked out from the
// program alone.
func (p *program) bound(s *Solver, price float64) float64 {
	y := make([]float64, len(p.lo))
	sum := 0.0
	for k, a := range p.a {
		sum -= s.Y(k) * p.b[k]
		for j, c := range a {
			y[j] += s.Y(k) * c
		}
	}
	for j := range p.lo {
		at := func(x float64) float64 { return price*(p.weight[j]*math.Abs(x)+p.slope[j]*x) + y[j]*x }
		sum += min(at(p.lo[j]), at(p.hi[j]), at(math.Min(math.Max(0, p.lo[j]), p.hi[j])))
	}
	return sum
}

// holds verifies a status by nothing but the program: of an optimum that it keeps all and costs what its multipliers
// prove to be the least, of the others that the multipliers prove it. It returns the optimum.
func (p *program) holds(t *testing.T, s *Solver, status Status, cutoff float64) float64 {
	t.Helper()
	for k := range p.a {
		require.GreaterOrEqual(t, s.Y(k), 0.0)
	}
	switch status {
	case Infeasible:
		require.Positive(t, p.bound(s, 0))
		return math.Inf(1)
	case Passed:
		require.GreaterOrEqual(t, p.bound(s, 1), cutoff-1e-6)
		return cutoff
	}
	require.Equal(t, Optimal, status)
	cost := 0.0
	for j := range p.lo {
		x := s.X(j)
		require.True(t, x >= p.lo[j]-1e-7 && x <= p.hi[j]+1e-7, "x%d = %g in %g..%g", j, x, p.lo[j], p.hi[j])
		cost += p.weight[j]*math.Abs(x) + p.slope[j]*x
	}
	for k, a := range p.a {
		sum := p.b[k]
		for j, c := range a {
			sum -= c * s.X(j)
		}
		require.Greater(t, sum, -1e-7)
		require.InDelta(t, sum, s.Slack(k), 1e-6)
	}
	require.InDelta(t, cost, p.bound(s, 1), 1e-6*(1+math.Abs(cost)))
	return cost
}

// By hand: of two variables the one at half the price takes all that its box has, the other the rest: of 3 are 2 for 1
// each and 1 for 2, in all 4, and one more or less costs 2. With 5 to do there is no room in boxes of 2.
func TestByHand(t *testing.T) {
	p := &program{lo: []float64{-2, -2}, hi: []float64{2, 2}, weight: []float64{1, 2}, slope: []float64{0, 0},
		a: [][]float64{{-1, -1}}, b: []float64{-3}}
	s := p.fresh()
	require.Equal(t, Optimal, s.Solve(math.Inf(1), 100))
	assert.InDeltaSlice(t, []float64{2, 1, 2, 0}, []float64{s.X(0), s.X(1), s.Y(0), s.Slack(0)}, 1e-12)
	assert.False(t, s.Resting(0))
	assert.Equal(t, Passed, s.Solve(3.9, 100))
	assert.Equal(t, Optimal, s.Solve(4.1, 100))

	s.Bound(0, 3) // x + y ≥ −3 holds where nothing moves
	require.Equal(t, Optimal, s.Solve(math.Inf(1), 100))
	assert.Equal(t, [3]float64{0, 0, 0}, [3]float64{s.X(0), s.X(1), s.Y(0)})
	assert.True(t, s.Resting(0))

	s.Bound(0, -5)
	require.Equal(t, Infeasible, s.Solve(math.Inf(1), 100))
	assert.Equal(t, 1.0, s.Y(0))
	require.True(t, s.Resting(0), "what can't be kept stays basic")
	s.Drop(0)
	require.Equal(t, Optimal, s.Solve(math.Inf(1), 100))
	assert.Equal(t, [3]float64{0, 0, 0}, [3]float64{s.X(0), s.X(1), float64(s.Cuts())})
}

// drawn is a program as a search has them: some variables fixed, some on one side of 0, costs alike and not.
func drawn(r *rand.Rand, n, m int) *program {
	p := &program{}
	for range n {
		lo, hi := -float64(r.IntN(5)), float64(r.IntN(5))
		switch r.IntN(6) {
		case 0:
			lo, hi = float64(r.IntN(2)), float64(1+r.IntN(3))
		case 1:
			lo, hi = -3, -float64(r.IntN(2))
		case 2:
			hi = lo
		}
		p.lo, p.hi = append(p.lo, lo), append(p.hi, hi)
		p.weight = append(p.weight, float64(r.IntN(3)))
		p.slope = append(p.slope, float64(r.IntN(3)-1)*0.5*float64(r.IntN(2)))
	}
	for range m {
		p.a = append(p.a, halfSpace(r, n))
		p.b = append(p.b, 2*r.NormFloat64()+1)
	}
	return p
}

func halfSpace(r *rand.Rand, n int) []float64 {
	a := make([]float64, n)
	for range 1 + r.IntN(4) {
		a[r.IntN(n)] = r.NormFloat64()
	}
	return a
}

// asCones is the same program for package socp.
func (p *program) asCones() *socp.Program {
	n := len(p.lo)
	out := &socp.Program{Start: []int{0}}
	row := func(h float64, entries ...[2]float64) {
		for _, e := range entries {
			if e[1] != 0 {
				out.Col, out.Val = append(out.Col, int(e[0])), append(out.Val, e[1])
			}
		}
		out.H, out.Start, out.Cones = append(out.H, h), append(out.Start, len(out.Col)), append(out.Cones, 1)
	}
	for j := range n {
		most := math.Max(math.Abs(p.lo[j]), math.Abs(p.hi[j]))
		out.Cost, out.Bound = append(out.Cost, p.slope[j], p.weight[j]), append(out.Bound, most, most)
		x, size := float64(2*j), float64(2*j+1)
		row(p.hi[j], [2]float64{x, 1})
		row(-p.lo[j], [2]float64{x, -1})
		row(0, [2]float64{x, 1}, [2]float64{size, -1})
		row(0, [2]float64{x, -1}, [2]float64{size, -1})
	}
	for k, a := range p.a {
		var entries [][2]float64
		for j, c := range a {
			entries = append(entries, [2]float64{float64(2 * j), c})
		}
		row(p.b[k], entries...)
	}
	return out
}

// Every answer proves itself, and the cone solver has the same.
func TestDrawnProgramsAgainstCones(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 1))
	var cones socp.Solver
	optimal, none := 0, 0
	for range 600 {
		p := drawn(r, 1+r.IntN(12), r.IntN(24))
		s := p.fresh()
		found := p.holds(t, s, s.Solve(math.Inf(1), 1000), 0)
		c := cones.Solve(p.asCones(), socp.Settings{})
		if math.IsInf(found, 1) {
			none++
			require.Equal(t, socp.Infeasible, c.Status)
			continue
		}
		optimal++
		require.Equal(t, socp.Optimal, c.Status)
		require.InDelta(t, c.Value, found, 1e-5*(1+math.Abs(found)))
	}
	assert.Greater(t, optimal, 100)
	assert.Greater(t, none, 50)
}

// Going on from where it ended, through other boxes, costs and half-spaces, a solver finds what a fresh one finds, and
// every answer proves itself.
func TestGoingOnIsAsStartingAnew(t *testing.T) {
	seen := map[Status]int{}
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(20, 100+seed))
		n := 6 + r.IntN(10)
		p := drawn(r, n, n)
		s := p.fresh()
		for range 150 {
			q := drawn(r, n, 0)
			for range 1 + r.IntN(3) {
				j := r.IntN(n)
				p.lo[j], p.hi[j] = q.lo[j], q.hi[j]
				if r.IntN(8) == 0 {
					p.weight[j], p.slope[j] = q.weight[j], q.slope[j]
				}
			}
			p.tell(s)
			switch k := r.IntN(len(p.a)); {
			case r.IntN(3) == 0 || len(p.a) < 3:
				a := halfSpace(r, n)
				p.a, p.b = append(p.a, a), append(p.b, 3*r.Float64())
				s.Add(a, p.b[len(p.b)-1])
			case r.IntN(3) == 0 && s.Resting(k):
				last := len(p.a) - 1
				p.a[k], p.b[k] = p.a[last], p.b[last]
				p.a, p.b = p.a[:last], p.b[:last]
				s.Drop(k)
			case r.IntN(2) == 0:
				p.b[k] = 3 * r.NormFloat64()
				s.Bound(k, p.b[k])
			default:
				p.b[k] += r.Float64()
				s.Bound(k, p.b[k])
			}
			require.Equal(t, len(p.a), s.Cuts())
			cutoff := math.Inf(1)
			if r.IntN(4) == 0 {
				cutoff = 6 * r.Float64()
			}
			status := s.Solve(cutoff, 1000)
			seen[status]++
			found := p.holds(t, s, status, cutoff)
			anew := p.fresh()
			best := p.holds(t, anew, anew.Solve(math.Inf(1), 1000), 0)
			if status == Passed {
				require.GreaterOrEqual(t, best, cutoff-1e-6)
			} else if math.IsInf(found, 1) {
				require.True(t, math.IsInf(best, 1))
			} else {
				require.InDelta(t, best, found, 1e-5*(1+math.Abs(best)))
			}
		}
	}
	assert.Zero(t, seen[Stuck])
	for _, status := range []Status{Optimal, Passed, Infeasible} {
		assert.Greater(t, seen[status], 40, "status %d", status)
	}
}
