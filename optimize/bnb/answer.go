package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// A Relaxed is what is left of a problem without whole steps.
type Relaxed struct {
	X     []float64 // the optimum, in the variables' own unit; nil: none was found
	Bound float64   // proven: no point, whole steps or not, has a lower value; +Inf: there is none
	// Claim and Proof say why the bound holds, for package certify; Proof is nil
	// where there is no bound.
	Claim certify.Claim
	Proof *certify.Proof
}

// Impossible says that it is proven that no point keeps the limits.
func (r Relaxed) Impossible() bool { return math.IsInf(r.Bound, 1) }

// Result is what it says of the problem with whole steps, for a goal.
func (r Relaxed) Result(goal mip.Goal) Result {
	out := Result{Status: Cut, Value: math.NaN(), Bound: r.Bound, Goal: goal, Claim: r.Claim, Proof: r.Proof}
	if r.Impossible() {
		out.Status = Impossible
	}
	return out
}

// Relax solves the problem without whole steps, within ranges that still end on
// whole steps: what it calls impossible is so for every integer point.
func Relax(p *mip.Problem, goal mip.Goal) Relaxed {
	l := newGrid(p)
	t := tree{judge: &judge{grid: l, goal: goal}} // all that a claim needs
	if mip.Empty(l.lo, l.hi) {
		return Relaxed{Bound: math.Inf(1), Claim: t.claim(math.Inf(1)), Proof: &certify.Proof{}}
	}
	r := newRelaxer(l, goal).solve(l.lo, l.hi, math.Inf(1))
	out := Relaxed{Bound: r.bound, Claim: t.claim(r.bound)}
	if r.proof != nil {
		out.Proof = &certify.Proof{Certificate: r.proof}
	}
	if r.x != nil && r.status != socp.Infeasible {
		out.X = r.x
		for j := range out.X {
			out.X[j] *= p.Vars[j].Step
		}
	}
	return out
}

// Use is the largest share of a shared limit that a point takes up; +Inf where
// it breaks another one.
func Use(p *mip.Problem, s mip.Steps) float64 {
	l := newGrid(p)
	at := l.at(s)
	return l.use(&at)
}

// Cost is what a point costs.
func Cost(p *mip.Problem, s mip.Steps) float64 { return newGrid(p).cost(s) }

// Shares are what a point takes up of each limit, shared or not.
func Shares(p *mip.Problem, s mip.Steps) []float64 {
	l := newGrid(p)
	at := l.at(s)
	out := make([]float64, len(p.Limits))
	for i := range out {
		out[i] = l.share(i, at.rows)
	}
	return out
}
