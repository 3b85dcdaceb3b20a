package infeasible

import (
	"context"
	"math"

	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// A relaxationProgram is a mixed-integer problem without its steps, some of whose limits may
// be relaxed at a cost. Relaxed enough, it always has a solution, and the least
// cost is zero exactly where the limits can hold together as they are.
type relaxationProgram struct {
	ctx     context.Context
	problem *mip.Problem
	use     float64 // share of the limits that share it
	slacks  []slack
	ranges  []rangeEnd
}

// A slack is an amount, 0 or more, by which limits widen.
type slack struct {
	cost   float64         // per unit
	most   float64         // unit
	block  int             // where along the chain it belongs
	limits map[int]float64 // index of each limit that it widens → by how much a unit
}

// A rangeEnd is one more end of a variable's range: sign × x ≤ at + the slack.
type rangeEnd struct {
	variable int
	sign, at float64
	slack    int // -1: none
}

// least finds the amounts of least cost. Bound is proven: no amounts cost less;
// +Inf: none are enough. Amounts are nil where none were found.
func (e *relaxationProgram) least() (amounts []float64, bound float64) {
	var p socp.Program
	p.Start = []int{0}
	row := func(h float64) {
		p.H, p.Start = append(p.H, h), append(p.Start, len(p.Col))
	}
	entry := func(col int, v float64) {
		p.Col, p.Val = append(p.Col, col), append(p.Val, v)
	}
	x, g := e.columns(&p)
	half := func(h float64, col int, v float64) {
		entry(col, v)
		row(h)
		p.Cones = append(p.Cones, 1)
	}
	for j, v := range e.problem.Vars {
		half(v.Hi, x[j], 1)
		half(-v.Lo, x[j], -1)
	}
	for k := range e.slacks {
		half(e.slacks[k].most, g[k], 1)
		half(0, g[k], -1)
	}
	for _, n := range e.ranges {
		entry(x[n.variable], n.sign)
		if n.slack >= 0 {
			entry(g[n.slack], -1)
		}
		row(n.at)
		p.Cones = append(p.Cones, 1)
	}
	for i := range e.problem.Limits {
		l := &e.problem.Limits[i]
		radius := l.Radius
		if l.Shared {
			radius *= e.use
		}
		head := func() {
			for k := range e.slacks {
				if by := e.slacks[k].limits[i]; by != 0 {
					entry(g[k], -by)
				}
			}
		}
		if len(l.Rows) == 1 {
			for _, sign := range [2]float64{1, -1} {
				for _, t := range l.Rows[0].Terms {
					entry(x[t.Var], sign*t.Coefficient)
				}
				head()
				row(radius - sign*l.Rows[0].Constant)
				p.Cones = append(p.Cones, 1)
			}
			continue
		}
		head()
		row(radius)
		for _, r := range l.Rows {
			for _, t := range r.Terms {
				entry(x[t.Var], -t.Coefficient)
			}
			row(r.Constant)
		}
		p.Cones = append(p.Cones, 1+len(l.Rows))
	}
	var solver socp.Solver
	res := solver.Solve(&p, socp.Settings{Ended: func() bool { return e.ctx.Err() != nil }})
	if res.X == nil || res.Status == socp.Infeasible || e.ctx.Err() != nil {
		return nil, res.Bound
	}
	for k := range e.slacks {
		amounts = append(amounts, math.Max(0, res.X[g[k]]))
	}
	return amounts, math.Max(0, res.Bound)
}

// columns numbers the unknowns along the chain, so that what shares a limit
// stands together: of each block the variables, then the amounts.
func (e *relaxationProgram) columns(p *socp.Program) (x, g []int) {
	x, g = make([]int, len(e.problem.Vars)), make([]int, len(e.slacks))
	add := func(cost, bound float64) int {
		p.Cost, p.Bound = append(p.Cost, cost), append(p.Bound, bound)
		return len(p.Cost) - 1
	}
	blocks := 0
	for _, v := range e.problem.Vars {
		blocks = max(blocks, v.Block+1)
	}
	for _, k := range e.slacks {
		blocks = max(blocks, k.block+1)
	}
	j := 0
	for b := range blocks {
		for ; j < len(x) && e.problem.Vars[j].Block == b; j++ {
			x[j] = add(0, math.Max(math.Abs(e.problem.Vars[j].Lo), math.Abs(e.problem.Vars[j].Hi)))
		}
		for k := range e.slacks {
			if e.slacks[k].block == b {
				g[k] = add(e.slacks[k].cost, e.slacks[k].most)
			}
		}
	}
	return x, g
}
