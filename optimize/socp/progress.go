package socp

import "math"

// progress compares the point with the exit tests and keeps the best. The merit
// is the largest residual over its tolerance, at most 1 at an optimum.
func (s *Solver) progress() float64 {
	l, p := &s.layout, &s.point
	if !finite(dot(p.s, p.z)) {
		return math.Inf(1)
	}
	merit := s.primal() / p.tau
	for j, r := range s.rx {
		if v := math.Abs(r) / (l.colTol[j] * p.tau); v > merit {
			merit = v
		}
	}
	unit := pow2(l.size + l.price) // c'x of the program for that of the layout
	gap := math.Abs(s.cx+s.hz) / p.tau * unit
	merit = math.Max(merit, gap/(s.set.Tolerance*math.Max(1, math.Abs(s.cx)/p.tau*unit)))
	if merit < s.merit {
		s.merit = merit
		s.best.copy(p)
	}
	return merit
}

// primal is the largest entry of rz over its tolerance.
func (s *Solver) primal() float64 {
	l := &s.layout
	merit := 0.0
	for k, tol := range l.rowTol {
		merit = math.Max(merit, maxAbs(s.rz[l.row[k]:l.row[k+1]])/tol)
	}
	return merit
}

// enough is the residual that a direction may keep.
func (s *Solver) enough() float64 {
	l := &s.layout
	least := math.Inf(1)
	for _, tol := range l.colTol {
		least = math.Min(least, tol)
	}
	return 1e-3 * math.Max(maxAbs(s.rx), least*s.point.tau*0.1)
}

// early looks for a proof that ends the solve: a ray, or a bound above the
// cutoff.
func (s *Solver) early() Status {
	l, p := &s.layout, &s.point
	if s.hz < 0 {
		paid, open := 0.0, 0.0 // over bounded and unbounded columns
		for j, r := range s.rx {
			s.a[j] = (l.c[j]*p.tau - r) / -s.hz
			if math.IsInf(l.bound[j], 1) {
				open = math.Max(open, math.Abs(s.a[j])/l.colTol[j])
			} else {
				paid += math.Abs(s.a[j]) * l.bound[j]
			}
		}
		if paid < 1 && open <= 1 {
			l.push(s.y, p.z, 1/-s.hz)
			if l.certify(s.y, 0, s.r, s.size) > 0 {
				return s.infeasible()
			}
			if paid < 0.5 && open > 0 {
				copy(s.proof, s.y)
				s.bound = math.Inf(-1)
				return Infeasible
			}
		}
		if p.kappa > p.tau && s.factored {
			l.push(s.y, p.z, 1/-s.hz)
			s.project(s.y)
			if l.certify(s.y, 0, s.r, s.size) > 0 {
				return s.infeasible()
			}
		}
	}
	cutoff := s.set.Cutoff * pow2(-l.size-l.price)
	if s.set.Stop && -s.hz > cutoff*p.tau {
		s.improve(p.z, 1/p.tau)
		if s.bound > cutoff {
			return CutOff
		}
	}
	return Unsolved
}

func (s *Solver) infeasible() Status {
	copy(s.proof, s.y)
	s.bound = math.Inf(1)
	return Infeasible
}

// improve looks for a better bound at z·f: as it is, and with its dual residual
// taken away.
func (s *Solver) improve(z []float64, f float64) {
	l := &s.layout
	l.push(s.y, z, f)
	s.keep()
	if !s.factored {
		return
	}
	l.push(s.y, z, f)
	clear(s.a)
	l.transposed(s.a, s.y, l.g)
	for j, c := range l.c {
		s.a[j] = -c - s.a[j]
	}
	s.project(s.y)
	s.keep()
}

// keep certifies s.y and keeps it if it gives a better bound than any before.
func (s *Solver) keep() {
	b := s.layout.certify(s.y, 1, s.r, s.size)
	if b > s.bound || math.IsInf(s.bound, -1) {
		s.bound = b
		copy(s.proof, s.y)
	}
}

// project adds dz to y so that G'dz = s.a, shortest in the last scaling, and
// moves y into K again.
func (s *Solver) project(y []float64) {
	l := &s.layout
	clear(s.wb)
	s.direct(&s.step, s.a, s.wb, 0)
	for i, v := range s.step.z {
		y[i] += v
	}
	l.push(y, y, 1)
}
