package socp

import "math"

// constant looks for a cone without entries whose right-hand side is outside,
// and gives the ray that proves it.
func (p *Program) constant() []float64 {
	row := 0
	for _, d := range p.Cones {
		at := row
		row += d
		empty := true
		for _, v := range p.Val[p.Start[at]:p.Start[row]] {
			empty = empty && v == 0
		}
		if !empty {
			continue
		}
		h := p.H[at:row]
		if d == 1 && h[0] < 0 || d > 1 && h[0] < tail(h[1:])*(1-float64(d+4)*ulp)-tiny {
			ray := make([]float64, len(p.H))
			ray[at] = 1
			for i := 1; i < d; i++ {
				ray[at+i] = -h[i] / math.Max(tail(h[1:]), tiny) * (1 - float64(d+8)*ulp)
			}
			return ray
		}
	}
	return nil
}

// result takes the best point and the proof back to the program's scale.
func (s *Solver) result(p *Program, status Status) Result {
	l := &s.layout
	out := Result{Status: status, Value: math.NaN(), Iterations: s.its}
	solved := status == Optimal || status == Uncertain && !math.IsInf(s.merit, 1)
	if solved {
		s.improve(s.best.z, 1/s.best.tau)
	}
	n, m := len(p.Cost), len(p.H)
	all := make([]float64, n+2*m)
	x, sl, z := all[:n:n], all[n:n+m:n+m], all[n+m:]
	if solved || status == Infeasible || status == CutOff {
		s.unscale(p, z, s.proof, l.price, 1)
		out.Z = z
	}
	out.Bound = s.bound * pow2(l.size) * pow2(l.price)
	if solved {
		f := 1 / s.best.tau
		for j, user := range l.column {
			x[user] = s.best.x[j] * f * pow2(l.size) * pow2(l.colExp[j])
		}
		copy(sl, p.H)
		l.push(s.y, s.best.s, f)
		s.unscale(p, sl, s.y, l.size, -1)
		out.X, out.S = x, sl
		out.Value = dot(p.Cost, x)
	}
	return out
}

// unscale takes rows from the layout to the program, by 2^(e + sign·row).
func (s *Solver) unscale(p *Program, to, from []float64, e, sign int) {
	l := &s.layout
	for k := range l.cones {
		f := pow2(sign*l.rowExp[k]) * pow2(e)
		at, place := l.row[k], l.place[k]
		for i := range l.row[k+1] - at {
			to[place+i] = from[at+i] * f
		}
	}
}
