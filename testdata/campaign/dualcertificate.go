package main

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// cones is the relaxed problem as a cone program over (|x|, x), variable by
// variable, and the first row of each limit.
func cones(p *mip.Problem, use float64) (c socp.Program, first []int) {
	lo, hi := box(p)
	c.Start = []int{0}
	row := func(h float64) {
		c.H = append(c.H, h)
		c.Start = append(c.Start, len(c.Col))
	}
	entry := func(col int, v float64) { c.Col, c.Val = append(c.Col, col), append(c.Val, v) }
	single := func(h float64) {
		row(h)
		c.Cones = append(c.Cones, 1)
	}
	for j, v := range p.Vars {
		size, x := 2*j, 2*j+1
		least, most := v.Step*float64(lo[j]), v.Step*float64(hi[j])
		far := math.Max(math.Abs(least), math.Abs(most))
		c.Cost, c.Bound = append(c.Cost, v.Weight, 0), append(c.Bound, far, far)
		entry(x, 1)
		single(most)
		entry(x, -1)
		single(-least)
		for _, sign := range [2]float64{1, -1} {
			entry(x, sign)
			entry(size, -1)
			single(0)
		}
	}
	first = make([]int, len(p.Limits))
	for i, l := range p.Limits {
		radius := l.Radius
		if l.Shared {
			radius *= use
		}
		first[i] = len(c.H)
		if len(l.Rows) > 1 {
			row(radius)
		}
		for _, r := range l.Rows {
			for _, t := range r.Terms {
				entry(2*t.Var+1, t.Coefficient)
			}
			if len(l.Rows) > 1 {
				row(-r.Constant) // the cone's tail is the row's value, turned round
				continue
			}
			single(radius - r.Constant)
			for _, t := range r.Terms {
				entry(2*t.Var+1, -t.Coefficient)
			}
			single(radius + r.Constant)
		}
		if len(l.Rows) > 1 {
			c.Cones = append(c.Cones, 1+len(l.Rows))
		}
	}
	return c, first
}

// dualCertificate solves the relaxed problem and gives the multipliers of its limits;
// those of a ray, where it has no point.
func dualCertificate(p *mip.Problem, use float64, impossible bool) *certify.DualCertificate {
	c, first := cones(p, use)
	w := &certify.DualCertificate{}
	if !impossible {
		w.Price = 1
	}
	var solver socp.Solver
	z := solver.Solve(&c, socp.Settings{}).Z
	for i, l := range p.Limits {
		for k := range l.Rows {
			switch {
			case z == nil:
				w.Pull = append(w.Pull, 0)
			case len(l.Rows) == 1:
				w.Pull = append(w.Pull, z[first[i]]-z[first[i]+1])
			default:
				// s = h − Gx has the tail −row, so z pulls at the row with its sign turned
				w.Pull = append(w.Pull, z[first[i]+1+k])
			}
		}
	}
	return w
}
