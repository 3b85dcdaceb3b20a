package robust

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// ErrNoErrors says that a chance was asked for where no errors are stated.
var ErrNoErrors = errors.New("the train states no errors of measurement")

// ErrUnstated says that a chance was asked for where growth or a journal shift is not stated (train.Unstated).
var ErrUnstated = errors.New("the train leaves growth or a journal shift open")

const (
	// searchDraws are the draws in which a chance is looked at while a plan is
	// looked for, sureDraws those in which the one that was found is verified.
	searchDraws, sureDraws = 50_000, 100_000
	// freshSeed is the seed of the latter.
	freshSeed = 2
	// marginDraws are the draws whose standard error, twice, a plan must have as margin:
	// another simulation as large as a plan's own then finds the chance too.
	marginDraws = 20_000
	// mostBackOffs is how many back-offs are tried at most, and NearBackOff how close in
	// standard deviations they are told apart.
	mostBackOffs, NearBackOff = 9, 0.04
	// farthest is the largest back-off that is tried.
	farthest = 6
	// chanceSolves is the most cone programs for one back-off, and chanceGap the
	// relative gap at which its total counts as least; proofSolves and closestSolves
	// are those for the bound and for the closest alignment.
	chanceSolves, proofSolves, closestSolves = 300, 2000, 300
	chanceGap, NearCentre                    = 0.002, 0.01
)

// MakeChanceConstrained looks for the least movement with a chance, above 0 and below 1, of ending
// within the limits: every limit is held short by a number of standard deviations of
// what its own errors do to it, and the smallest number that is enough is looked
// for, a plan at a time. The aim is not kept: the chance takes its place. The plan's
// chance is that of MonteCarlo, verified by fresh draws.
//
// That no plan with less movement has the chance is not proven, as only plans of
// that family were looked at. Bound is proven all the same: a plan with a chance of
// a half or more has that chance at each single limit too, and so stays short of it
// by as many deviations of its readings and growth as a Gaussian leaves there.
//
// Without a plan within the limits at all, the plan is that of optimize.Make. Errors are
// those of Make, ErrNoErrors and ErrUnstated.
func MakeChanceConstrained(ctx context.Context, t *train.Train, opt optimize.Options, asked float64) (*optimize.Plan,
	error) {
	if t.Errors == (train.Errors{}) {
		return nil, ErrNoErrors
	}
	if len(t.Unstated()) > 0 {
		return nil, ErrUnstated
	}
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Limit = 0
	opt.Use, opt.Strategy = 1, optimize.LeastTotal
	opt.Brief = true
	all, err := optimize.Make(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	if all.Moves == nil {
		return all, nil
	}
	a := &chanceSearch{opt: opt, asked: asked, all: all, bound: all.Bound, solves: all.Solves}
	a.look(ctx)
	return a.finish(ctx), nil
}

// A chanceSearch is one search for an assured plan.
type chanceSearch struct {
	opt    optimize.Options
	asked  float64
	all    *optimize.Plan // that may use all of the limits
	bound  float64        // mm, proven: no plan with the chance has a smaller total; NaN: not known
	none   bool           // proven: no plan has the chance
	found  []candidatePlan
	steps  []mip.Steps // of the plans found so far
	solves int
	ran    bool // out of work before an end
}

// A likelyPlan is a plan and its chance.
type candidatePlan struct {
	*optimize.Plan
	probability float64 // share of searchDraws
	backOff     float64 // standard deviations
	most, least float64 // shares that it shortens limits by
}

// target is the share of searchDraws that is enough.
func (a *chanceSearch) target() float64 {
	return math.Min(1, a.asked+2*StandardError(a.asked, marginDraws))
}

// look tries back-offs. Below the one that a single limit needs alone nothing is
// enough. Where what is enough can't be kept, it looks towards the middle of the
// limits.
func (a *chanceSearch) look(ctx context.Context) {
	if a.add(ctx, a.all, 0, nil) >= a.target() {
		return
	}
	low := math.Max(0, Quantile(a.asked))
	if a.asked >= 0.5 {
		a.prove(ctx, low)
	}
	if !a.none {
		a.narrow(ctx, low)
	}
	if !slices.ContainsFunc(a.found, a.enough) {
		a.middle(ctx, low)
	}
}

func (a *chanceSearch) enough(p candidatePlan) bool { return p.probability >= a.target() }

// add notes a plan for which the limits were held short, and gives its chance.
func (a *chanceSearch) add(ctx context.Context, p *optimize.Plan, backOff float64, short []float64) float64 {
	share := newErrorModel(p).within(ctx, searchDraws, chanceSeed)
	l := candidatePlan{Plan: p, probability: share, backOff: backOff}
	if short != nil {
		l.most, l.least = 1-slices.Min(short), 1-slices.Max(short)
	}
	a.found = append(a.found, l)
	return share
}

// prove works out a total that every plan with the chance has at least: at each
// limit by itself it has that chance too. Errors of side moves are left out, as
// what is not moved has none.
func (a *chanceSearch) prove(ctx context.Context, k float64) {
	short := newErrorModel(a.all).backOff(k, false)
	if slices.Min(short) <= 0 {
		a.none = true
		return
	}
	m, r := a.find(ctx, short, proofSolves, a.opt.Gap)
	bound := m.Proven(ctx, r)
	a.none = math.IsInf(bound, 1)
	if bound > a.bound || math.IsNaN(a.bound) {
		a.bound = bound
	}
}

// fresh is the chance of a plan by draws that the search has not seen, a share; NaN: there was no time.
func fresh(ctx context.Context, p *optimize.Plan) float64 {
	return newErrorModel(p).within(ctx, sureDraws, freshSeed)
}

// finish is the plan with the least movement that has the chance by fresh draws too;
// where there is none the one with the highest chance.
func (a *chanceSearch) finish(ctx context.Context) *optimize.Plan {
	out := &optimize.ChanceConstraint{Asked: a.asked, None: a.none, Without: a.all.Total,
		WithoutProbability: newErrorModel(a.all).within(context.WithoutCancel(ctx), Draws, chanceSeed)}
	slices.SortStableFunc(a.found, func(p, q candidatePlan) int {
		good, other := a.enough(p), a.enough(q)
		switch {
		case good && other:
			return cmp.Compare(p.Total, q.Total)
		case good:
			return -1
		case other:
			return 1
		}
		return cmp.Compare(q.probability, p.probability)
	})
	best := a.found[0]
	for n, p := range a.found {
		// What is said of the plan is what is said of the same moves anywhere else; fresh draws must bear it out.
		p.Probability = MonteCarlo(ctx, p.Plan, Draws)
		if p.Probability == nil { // there was no time
			break
		}
		if n == 0 || p.Probability.Within > best.Probability.Within {
			best = p
		}
		if p.Probability.Within >= a.asked && !(fresh(ctx, p.Plan) < a.asked) {
			best, out.Reached = p, true
			break
		}
		if !a.enough(p) {
			break
		}
	}
	p := best.Plan
	out.BackOff, out.Most, out.Least = best.backOff, best.most, best.least
	p.ChanceConstraint, p.Solves, p.Kept = out, a.solves, 1
	if p.Bound = a.bound; a.none {
		p.Bound = a.all.Bound // of plans without the chance
	}
	p.Bound = math.Min(p.Bound, p.Total)
	p.Cut = (&optimize.Solver{Plan: p, OutOfWork: a.ran}).Cut(ctx)
	return p
}
