package optimize

import (
	"context"
	"math"
	"slices"
	"sync"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// This file makes what a search has proven of linear forms hold of true geometry, by curved.go's problem.

// An ahead is a model's curved problem that is worked out before it is asked for.
type ahead struct {
	of     *Model
	curved func() *mip.Problem // waits until it is there
}

// lookAhead begins to work out the model's curved problem, which takes about as long as the search's first plan of a
// long train.
func (m *Solver) lookAhead() {
	k := m.Model
	m.ahead = &ahead{k, sync.OnceValue(func() *mip.Problem { return k.curved(nil) })}
	go func(curved func() *mip.Problem) {
		defer func() { _ = recover() }() // whoever asks for it is told
		curved()
	}(m.ahead.curved)
}

// truly is the problem of a task of the maker's train with what its rows may be off, of some
// limits alone (nil: all). That is worked out once for all tasks with the same linear forms.
func (m *Solver) truly(k *Model, only []int) *mip.Problem {
	if m.curvedAt == nil || m.curvedAt.at != k.at || m.curvedAt.Train != k.Train ||
		len(m.curvedAt.Labels) != len(k.Labels) || !slices.Equal(m.curvedOf, only) {
		m.curvedAt, m.curvedOf = k, only
		if a := m.ahead; a != nil && a.of == k && only == nil {
			m.curved = a.curved()
		} else {
			m.curved = k.curved(only)
		}
	}
	if m.curvedAt == k {
		return m.curved
	}
	p := *k.Problem.Only(only)
	p.Turns, p.TurnMost = m.curved.Turns, m.curved.TurnMost
	p.Vars = k.unholed(p.Vars)
	p.Limits = slices.Clone(p.Limits)
	for i := range p.Limits {
		p.Limits[i].Radius *= m.curved.Limits[i].Radius / m.curvedAt.Problem.Only(only).Limits[i].Radius
		p.Limits[i].Rows = m.curved.Limits[i].Rows
	}
	k.steepest(&p)
	p.Limits = append(p.Limits, m.curved.Limits[len(p.Limits):]...)
	return &p
}

// Never says whether it is proven that a task has no plan at a use, with a little work.
func (m *Solver) Never(ctx context.Context, k *Model, use float64) bool {
	goal := mip.Goal{Use: use}
	r := bnb.Relax(ctx, &k.Problem, goal)
	if !r.Impossible() {
		return false
	}
	f, verified := m.firmed(ctx, k, r, goal)
	return verified && f.Status == bnb.Impossible
}

// LeastProven is a proven bound on the total of a task at a use, or on its lowest use, with a little work; NaN where
// there is none.
func (m *Solver) LeastProven(ctx context.Context, k *Model, goal mip.Goal) float64 {
	f, verified := m.firmed(ctx, k, bnb.Relax(ctx, &k.Problem, goal), goal)
	if !verified {
		return math.NaN()
	}
	return f.Bound
}

// firmed is what a relaxation of a task says, made to hold of true geometry with a little work, and whether that was
// verified.
func (m *Solver) firmed(ctx context.Context, k *Model, r bnb.Relaxed, goal mip.Goal) (f bnb.Result, verified bool) {
	const share = 5
	if ctx.Err() != nil {
		return bnb.Result{}, false
	}
	linear := r.Result(goal)
	p := m.truly(k, linear.Claim.Limits)
	f = bnb.Firm(ctx, p, linear,
		bnb.Options{Solves: firming(len(k.Problem.Vars)) / share, Accept: m.accept(k, most(goal))})
	return f, Verified(ctx, p, f.Claim, f.Proof)
}

// most is the largest share of the limits that a goal allows.
func most(goal mip.Goal) float64 {
	if goal.LeastUse {
		return goal.MostUse
	}
	return goal.Use
}

// firming is how many cone programs go into making a bound firm, beside as many as the
// search solved: each takes longer in a longer train.
func firming(unknowns int) int {
	const all, least, most = 24000, 60, 3000 // all: programs times unknowns
	return min(most, max(least, all/max(1, unknowns)))
}

// firm makes a search's proof hold of true geometry, be it that there is no plan or a bound beside one. Where the work
// for it runs out the bound is lower.
func (m *Solver) firm(ctx context.Context, r bnb.Result, start ...mip.Steps) bnb.Result {
	if r.Firm || r.Proof == nil {
		return r
	}
	if ctx.Err() != nil { // there is no time for it
		r.Status, r.Bound, r.Proof = bnb.Cut, math.Inf(-1), nil
		return r
	}
	solves := firming(len(m.Model.Problem.Vars)) + r.Solves
	if r.Steps != nil { // where it does not suffice the bound is lower, and that is all
		const share = 10
		solves = firming(len(m.Model.Problem.Vars))/2 + r.Solves/share
	}
	out := bnb.Firm(ctx, m.truly(m.Model, r.Claim.Limits), r,
		bnb.Options{Solves: solves, Accept: m.accept(m.Model, most(r.Goal)), Start: start})
	m.Plan.Solves += out.Solves - r.Solves
	return out
}
