package bnb

import (
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/simplex"
	"leastmove/optimize/socp"
)

// Within a search each box differs from one before in a side or two, so what bounds the cost there is a linear program
// with tangents for discs that goes on from where the last one ended: a few pivots on a small dictionary, and few
// further tangents. What multipliers of tangents prove, the same multipliers prove of the discs, so nothing is lost but
// what tangents leave out. The cone program serves where there is no such start, and where this does not end.

const (
	// mostLinear is how many variables a dictionary is worth it for: a pivot takes their number times that of tangents.
	mostLinear = 100
	// touches is the share of a limit by which an optimum may be outside the disc whose tangents it keeps.
	touches = 2e-4
	// touchesWhole is the same of an optimum in whole steps, which is a plan where it is in all discs.
	touchesWhole = 1e-7
	// tangentRounds is how often tangents are added for one box at most, and pivotsAtMost the pivots of each time.
	tangentRounds, pivotsAtMost = 40, 400
	// idleAge is how many boxes a tangent may go by without touching before it is dropped.
	idleAge = 5
)

// A tangent is a half-space that a disc lies in.
type tangent struct {
	limit int
	u     [3]float64 // outwards, of length 1, along the limit's rows
	idle  int        // boxes gone by without touching
}

// tangents bound the cost over boxes by tangents.
type tangents struct {
	solver *simplex.Solver
	all    []tangent
}

// byTangents is solve by tangents; false where they don't serve.
func (r *relaxer) byTangents(lo, hi mip.Steps, cutoff float64) (relaxation, bool) {
	if r.loosen(lo, hi); slices.Contains(r.loose, math.Inf(1)) {
		return relaxation{}, false
	}
	paid := r.boxed(lo, hi)
	s := r.tangents.solver
	for range tangentRounds {
		status := s.Solve(cutoff-paid, pivotsAtMost)
		if status == simplex.Optimal && r.touch() {
			continue
		}
		if status == simplex.Stuck {
			break
		}
		c := r.pulled(status == simplex.Infeasible)
		w := r.weighed(c, lo, hi, true)
		out := relaxation{status: socp.Optimal, bound: w.bound, proof: c, lo: lo, hi: hi}
		switch status {
		case simplex.Infeasible:
			out.status = socp.Infeasible
			if !math.IsInf(out.bound, 1) { // rounding
				r.tangents = nil
			}
			return out, r.tangents != nil
		case simplex.Passed:
			out.status = socp.CutOff
			return out, out.bound >= cutoff
		}
		out.x = make([]float64, len(r.l.Vars))
		for j, v := range r.l.Vars {
			out.x[j] = s.X(j) / v.Step
		}
		r.age()
		out.nearLo, out.nearHi = r.narrow(lo, hi, c, &w, cutoff)
		return out, true
	}
	r.tangents = nil
	return relaxation{}, false
}

// boxed tells the solver of a box, and returns what of the cost is no part of the program.
func (r *relaxer) boxed(lo, hi mip.Steps) (paid float64) {
	if r.tangents == nil {
		r.tangents = &tangents{solver: simplex.New(len(r.l.Vars))}
	}
	s := r.tangents.solver
	for b := range r.blocks {
		fixed, extra := r.fixedCost(b, lo, hi)
		paid += fixed
		for j := r.l.first[b]; j < r.l.first[b+1]; j++ {
			v := &r.l.Vars[j]
			s.Set(j, v.Step*float64(lo[j]), v.Step*float64(hi[j]), v.Weight+extra(j), v.Slope)
		}
	}
	for k := range r.tangents.all {
		s.Bound(k, r.ahead(&r.tangents.all[k]))
	}
	return paid
}

// radius of limit i at the goal's use, with what its rows may be off.
func (r *relaxer) radius(i int) float64 {
	radius := r.l.Limits[i].Radius * (1 + slack)
	if r.l.Limits[i].Shared {
		radius *= r.goal.Use
	}
	if r.loose != nil {
		radius += r.loose[i]
	}
	return radius
}

// ahead is how far the disc of a tangent reaches along it, less its constants.
func (r *relaxer) ahead(t *tangent) float64 {
	b := r.radius(t.limit)
	for k, row := range r.l.Limits[t.limit].Rows {
		b -= t.u[k] * row.Constant
	}
	return b
}

// touch adds tangents where the optimum is outside discs; false where it is nowhere.
func (r *relaxer) touch() bool {
	s, any, beyond := r.tangents.solver, false, 1+touches
	if r.whole() {
		beyond = 1 + touchesWhole
	}
	for i := range r.l.Limits {
		l := &r.l.Limits[i]
		var at [3]float64
		var square float64
		for k, row := range l.Rows {
			v := row.Constant
			for _, t := range row.Terms {
				v += t.Coefficient * s.X(t.Var)
			}
			at[k] = v
			square += v * v
		}
		if radius := r.radius(i) * beyond; square <= radius*radius {
			continue
		}
		any = true
		t := tangent{limit: i}
		a := make([]float64, len(r.l.Vars))
		for k, row := range l.Rows {
			t.u[k] = at[k] / math.Sqrt(square)
			for _, term := range row.Terms {
				a[term.Var] += t.u[k] * term.Coefficient
			}
		}
		r.tangents.all = append(r.tangents.all, t)
		s.Add(a, r.ahead(&t))
	}
	return any
}

// whole says whether the optimum is in whole steps.
func (r *relaxer) whole() bool {
	for j, v := range r.l.Vars {
		if x := r.tangents.solver.X(j) / v.Step; math.Abs(x-math.Round(x)) > whole {
			return false
		}
	}
	return true
}

// age drops tangents that have not touched for long.
func (r *relaxer) age() {
	s, all := r.tangents.solver, r.tangents.all
	for k := len(all) - 1; k >= 0; k-- {
		t := &all[k]
		if !s.Resting(k) {
			t.idle = 0
			continue
		}
		if t.idle++; t.idle > idleAge {
			s.Drop(k)
			all[k] = all[len(all)-1]
			all = all[:len(all)-1]
		}
	}
	r.tangents.all = all
}

// pulled is the certificate of the multipliers of the tangents.
func (r *relaxer) pulled(ray bool) *certify.DualCertificate {
	c := &certify.DualCertificate{Pull: make([]float64, len(r.l.constant))}
	if !ray {
		c.Price = 1
	}
	for k := range r.tangents.all {
		y := r.tangents.solver.Y(k)
		if y == 0 {
			continue
		}
		t := &r.tangents.all[k]
		pull := c.Pull[r.l.rowStart[t.limit]:r.l.rowStart[t.limit+1]]
		for n := range pull {
			pull[n] += y * t.u[n]
		}
	}
	return c
}
