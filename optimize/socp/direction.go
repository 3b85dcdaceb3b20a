package socp

import "math"

// A direction is a solution of
//
//	(0  G' ) (x)   (a)
//	(G −W² ) (z) = (b),
//
// by way of V'V x = a + V'W⁻¹b and u = V x − W⁻¹b, V = W⁻¹ G.
type direction struct {
	x []float64
	u []float64 // W z
	z []float64
}

func (d *direction) resize(l *layout) {
	d.x, d.u, d.z = resize(d.x, l.n), resize(d.u, l.m), resize(d.z, l.m)
}

// refinements is the most that one direction gets.
const refinements = 3

// direct solves for d, given a and W⁻¹b. Refinement goes on until a − G'z is at
// most enough, or stops falling: it is the one residual that the steps do not
// take away by themselves. The slack step comes from the primal equation, and
// u is never without its own W⁻¹b.
func (s *Solver) direct(d *direction, a, wb []float64, enough float64) {
	l := &s.layout
	copy(d.x, a)
	s.rough(d, wb)
	s.scaling.over(l, d.z, d.u)
	r := s.residual(s.r, a, d.z)
	for range refinements {
		if !(r > enough) {
			return
		}
		copy(s.dx, s.r)
		s.factor.solve(s.dx)
		l.times(s.du, s.dx, s.v)
		for i := range s.du {
			s.du[i] += d.u[i]
		}
		s.scaling.over(l, s.dz, s.du)
		next := s.residual(s.r, a, s.dz)
		if !(next < r) {
			return
		}
		for j := range s.dx {
			d.x[j] += s.dx[j]
		}
		d.u, s.du = s.du, d.u
		d.z, s.dz = s.dz, d.z
		if next > r/2 {
			return
		}
		r = next
	}
}

// rough solves for d.x and d.u, given a in d.x, without refinement.
func (s *Solver) rough(d *direction, wb []float64) {
	l := &s.layout
	l.transposed(d.x, wb, s.v)
	s.factor.solve(d.x)
	l.times(d.u, d.x, s.v)
	for i, v := range wb {
		d.u[i] -= v
	}
}

// residual sets r = a − G'z and returns its largest entry.
func (s *Solver) residual(r, a, z []float64) float64 {
	clear(r)
	s.layout.transposed(r, z, s.layout.g)
	largest := 0.0
	for j := range r {
		r[j] = a[j] - r[j]
		if v := math.Abs(r[j]); v > largest {
			largest = v
		}
	}
	return largest
}
