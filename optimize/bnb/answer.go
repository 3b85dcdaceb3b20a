package bnb

import (
	"context"
	"math"
	"slices"

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
	some  *reserve // limits that the bound leans on; nil: all
}

// Impossible says that it is proven that no point keeps the limits.
func (r Relaxed) Impossible() bool { return math.IsInf(r.Bound, 1) }

// Result is what it says of the problem with whole steps, for a goal.
func (r Relaxed) Result(goal mip.Goal) Result {
	if s := r.some; s != nil && r.Proof != nil {
		out := Relaxed{Bound: r.Bound, Claim: r.Claim, Proof: &certify.Proof{
			Certificate: &certify.DualCertificate{Price: r.Proof.Certificate.Price, Pull: s.part(r.Proof.Certificate.Pull)}}}
		out.Claim.Limits = slices.Clone(s.in)
		return out.Result(goal)
	}
	out := Result{Status: Cut, Value: math.NaN(), Bound: r.Bound, Goal: goal, Claim: r.Claim, Proof: r.Proof}
	if r.Impossible() {
		out.Status = Impossible
	}
	return out
}

// Relax solves the problem without whole steps, within ranges that still end on
// whole steps: what it calls impossible is so for every integer point. Where the context ends
// before, there is no optimum, and a bound that may be -Inf.
func Relax(ctx context.Context, p *mip.Problem, goal mip.Goal) Relaxed {
	return relaxed(ctx, p, goal, relax)
}

// relaxed is Relax by a relaxation of the whole box, which says what limits it leans on too.
func relaxed(ctx context.Context, p *mip.Problem, goal mip.Goal,
	relax func(l *grid, goal mip.Goal, ended func() bool) (relaxation, *reserve)) Relaxed {
	if ctx.Err() != nil {
		return Relaxed{Bound: math.Inf(-1)}
	}
	l := newGrid(p)
	t := tree{judge: &judge{grid: l, goal: goal}} // all that a claim needs
	if mip.Empty(l.lo, l.hi) {
		return Relaxed{Bound: math.Inf(1), Claim: t.claim(math.Inf(1)), Proof: &certify.Proof{}}
	}
	r, some := relax(l, goal, func() bool { return ctx.Err() != nil })
	out := Relaxed{Bound: r.bound, Claim: t.claim(r.bound), some: some}
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

// relax is the relaxation of the whole box, by as few limits as say the same as all; some are
// those, nil: all.
func relax(l *grid, goal mip.Goal, ended func() bool) (r relaxation, some *reserve) {
	some = newReserve(l.Problem)
	if some == nil {
		return newRelaxer(l, goal, ended).solve(l.lo, l.hi, math.Inf(1)), nil
	}
	for n := 0; ; n++ {
		part := tree{judge: &judge{grid: newGrid(some.problem()), goal: goal}, reserve: some}
		r = newRelaxer(part.grid, goal, ended).solve(l.lo, l.hi, math.Inf(1))
		if part.breaks(r.x); n < generations && !ended() && some.grow() {
			continue
		}
		some.pending = nil
		if r.proof != nil {
			r.proof.Pull = some.full(r.proof.Pull)
		}
		return r, some
	}
}

// relaxByTangents is relax by tangents where these serve: far less work for a piece of a chain, and hardly coarser.
func relaxByTangents(l *grid, goal mip.Goal, ended func() bool) (relaxation, *reserve) {
	return quickRelaxer(l, goal, ended).solve(l.lo, l.hi, math.Inf(1)), nil
}

// Use is the largest share of a shared limit that a point uses; +Inf where
// it breaks another one.
func Use(p *mip.Problem, s mip.Steps) float64 {
	l := newGrid(p)
	at := l.at(s)
	return l.use(&at)
}

// Cost is what a point costs.
func Cost(p *mip.Problem, s mip.Steps) float64 { return newGrid(p).cost(s) }

// Shares are what a point uses of each limit, shared or not.
func Shares(p *mip.Problem, s mip.Steps) []float64 {
	l := newGrid(p)
	at := l.at(s)
	out := make([]float64, len(p.Limits))
	for i := range out {
		out[i] = l.share(i, at.rows)
	}
	return out
}
