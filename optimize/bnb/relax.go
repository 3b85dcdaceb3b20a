package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// A relaxer solves the cone program that is left of a problem when "whole
// multiple" is dropped, within a box of steps. It keeps its memory from one
// solve to the next.
type relaxer struct {
	l         *grid
	goal      mip.Goal
	solver    socp.Solver
	tolerance float64 // of a solve; 0: socp's default
	ended     func() bool

	program socp.Program
	x, t    []int     // columns of a variable and of its absolute value; -1: none
	use     []int     // column of the running use of each block; -1: none
	total   []int     // column of the running cost of each block; -1: none
	fixed   []float64 // value of a variable without a column
	low     []float64 // range of a variable with one
	high    []float64
	sign    []float64 // of a free variable without a column for its absolute value
	limit   []int     // first row of each limit's cone; -1: dropped
	loose   []float64 // what each limit's rows may be off in the box; nil: nothing
	still   []int     // row of a limit whose variables are all fixed, which the use must cover; -1: none
	capRow  int       // row of the cap on the cost; -1: none
	paid    []float64 // the fixed cost of each block that cannot stay as it is
	offset  float64   // cost of the fixed variables, and of what is paid for certain
	blocks  int

	linear   bool      // boxes are bounded by tangents where that serves
	tangents *tangents // nil: none yet
}

// A relaxation is what a solve tells about a box.
type relaxation struct {
	status socp.Status
	bound  float64                  // no integer point in the box has a lower value; +Inf: there is none
	x      []float64                // the optimum, in steps; nil where the box was dismissed before it was found
	proof  *certify.DualCertificate // why the bound holds; nil: none
	lo, hi mip.Steps                // the box itself
	// The box narrowed to where a better point than the cutoff can be; nil: not.
	nearLo, nearHi mip.Steps
}

// newRelaxer is one that gives up once it has ended.
func newRelaxer(l *grid, goal mip.Goal, ended func() bool) *relaxer {
	n := len(l.Vars)
	r := &relaxer{l: l, goal: goal, ended: ended, x: make([]int, n), t: make([]int, n), fixed: make([]float64, n),
		low: make([]float64, n), high: make([]float64, n), sign: make([]float64, n), limit: make([]int, len(l.Limits)),
		still: make([]int, len(l.Limits))}
	r.blocks = max(1, l.Length()) // one holds the use even where there are no variables
	r.use, r.total, r.paid = make([]int, r.blocks), make([]int, r.blocks), make([]float64, r.blocks)
	return r
}

// nearby is the tolerance of a bound within the tree. A coarser one saves
// little and leaves optima between the vertices, with more to split.
const nearby = 1e-6

// quickRelaxer is one for the boxes of a search: to nearby, and by tangents where these serve.
func quickRelaxer(l *grid, goal mip.Goal, ended func() bool) *relaxer {
	r := newRelaxer(l, goal, ended)
	r.tolerance, r.linear = nearby, !goal.LeastUse && len(l.Vars) <= mostLinear
	return r
}

// solve bounds the value over a box, giving up as soon as the bound passes the
// cutoff.
func (r *relaxer) solve(lo, hi mip.Steps, cutoff float64) relaxation {
	if r.linear {
		if out, ok := r.byTangents(lo, hi, cutoff); ok {
			return out
		}
	}
	out := relaxation{status: socp.Infeasible, bound: math.Inf(1), lo: lo, hi: hi}
	if broken := r.compile(lo, hi); broken >= 0 {
		out.proof = r.certificateOf(broken)
		return out
	}
	set := socp.Settings{Tolerance: r.tolerance, Ended: r.ended}
	if !math.IsInf(cutoff, 1) {
		set.Stop, set.Cutoff = true, cutoff-r.offset
	}
	res := r.solver.Solve(&r.program, set)

	out.status, out.bound = res.Status, res.Bound+r.offset
	if res.Z != nil {
		out.proof = r.certificate(res.Z, res.Status == socp.Infeasible)
	}
	if res.Status == socp.Infeasible || res.Status == socp.CutOff || res.X == nil ||
		res.Status == socp.Uncertain && r.ended() {
		return out
	}
	out.x = make([]float64, len(r.x))
	for j, v := range r.l.Vars {
		out.x[j] = r.fixed[j] / v.Step
		if c := r.x[j]; c >= 0 {
			out.x[j] = res.X[c] / v.Step
		}
	}
	out.nearLo, out.nearHi = r.narrow(lo, hi, out.proof, nil, cutoff)
	return out
}
