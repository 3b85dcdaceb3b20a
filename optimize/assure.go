package optimize

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"leastmove/optimize/lattice"
	"leastmove/optimize/search"
	"leastmove/train"
)

// An Assurance is a chance that was asked for, and what came of it.
type Assurance struct {
	Asked float64 // share: the chance that every coupling ends within its limits
	// Reached says that the plan has it, by draws that the search did not see
	// (Plan.Sure). Where it was not reached the plan is the one with the highest
	// chance that was found.
	Reached bool
	None    bool    // proven: no plan has the chance
	Margin  float64 // standard deviations of its own errors by which every limit was held short
	// Most and Least are the largest and the smallest share by which that shortened
	// a limit.
	Most, Least float64
	// Without is the total in mm of the plan that may take up all of the limits, and
	// WithoutChance the share of draws in which that ends within them: what the plan
	// moves beyond it is what the assurance costs.
	Without, WithoutChance float64
}

// ErrNoErrors says that a chance was asked for where no errors are stated.
var ErrNoErrors = errors.New("the train states no errors of measurement")

const (
	// searchDraws are the draws in which a chance is looked at while a plan is
	// looked for, sureDraws those in which the one that was found is verified.
	searchDraws, sureDraws = 50_000, 100_000
	// freshSeed is the seed of the latter.
	freshSeed = 2
	// inHand are the draws whose standard error, twice, a plan must have in hand:
	// another simulation as large as a plan's own then finds the chance too.
	inHand = 20_000
	// margins is how many margins are tried at most, and nearMargin how close in
	// standard deviations they are told apart.
	margins, nearMargin = 9, 0.04
	// farthest is the largest margin that is tried.
	farthest = 6
	// assureSolves is the most cone programs for one margin, and assureGap the
	// relative gap at which its total counts as least; proofSolves and closestSolves
	// are those for the bound and for the closest alignment.
	assureSolves, proofSolves, closestSolves = 300, 2000, 300
	assureGap, nearCentre                    = 0.002, 0.01
)

// Assure looks for the least movement with a chance, above 0 and below 1, of ending
// within the limits: every limit is held short by a number of standard deviations of
// what its own errors do to it, and the smallest number that is enough is looked
// for, a plan at a time. The aim is not kept: the chance takes its place. The plan's
// chance is verified by fresh draws.
//
// That no plan with less movement has the chance is not proven, as only plans of
// that family were looked at. Bound is proven all the same: a plan with a chance of
// a half or more has that chance at each single limit too, and so stays short of it
// by as many deviations of its readings and growth as a Gaussian leaves there.
//
// Nil Assurance: there is no plan within the limits at all. Errors are those of
// Make, and ErrNoErrors.
func Assure(ctx context.Context, t *train.Train, opt Options, asked float64) (*Plan, error) {
	if t.Errors == (train.Errors{}) {
		return nil, ErrNoErrors
	}
	if opt.Limit > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, opt.Limit)
		defer stop()
		opt.Limit = 0
	}
	opt.Use, opt.Strategy = 1, LeastTotal
	brief := opt
	brief.Brief = true
	all, err := Make(ctx, t, brief)
	if err != nil {
		return nil, err
	}
	if all.Moves == nil {
		if opt.Brief {
			return all, nil
		}
		return Make(ctx, t, opt) // with what clashes, and the ways out
	}
	a := &assuring{opt: brief, asked: asked, all: all, bound: all.Bound, solves: all.Solves}
	a.look(ctx)
	return a.finish(ctx), nil
}

// An assuring is one search for an assured plan.
type assuring struct {
	opt    Options
	asked  float64
	all    *Plan   // that may take up all of the limits
	bound  float64 // mm, proven: no plan with the chance has a smaller total; NaN: not known
	none   bool    // proven: no plan has the chance
	likely []likelyPlan
	steps  []lattice.Steps // of the plans found so far
	solves int
	ran    bool // out of work before an end
}

// A likelyPlan is a plan and its chance.
type likelyPlan struct {
	*Plan
	likely      float64 // share of searchDraws
	margin      float64 // standard deviations
	most, least float64 // shares that it shortens limits by
}

// target is the share of searchDraws that is enough.
func (a *assuring) target() float64 {
	return math.Min(1, a.asked+2*standardError(a.asked, inHand))
}

// look tries margins. Below the one that a single limit needs alone nothing is
// enough. Where what is enough can't be kept, it looks towards the middle of the
// limits.
func (a *assuring) look(ctx context.Context) {
	if a.add(a.all, 0, nil) >= a.target() {
		return
	}
	low := math.Max(0, quantile(a.asked))
	if a.asked >= 0.5 {
		a.prove(ctx, low)
	}
	if !a.none {
		a.narrow(ctx, low)
	}
	if !slices.ContainsFunc(a.likely, a.enough) {
		a.middle(ctx, low)
	}
}

// middle tries the closest alignment, and the one that keeps the largest part of what
// a margin leaves of every limit; where that has the chance, limits between the two.
func (a *assuring) middle(ctx context.Context, k float64) {
	opt := a.opt
	opt.Strategy, opt.Solves = Closest, closestSolves
	p, err := Make(ctx, a.all.file, opt)
	if err != nil || p.Moves == nil {
		return
	}
	a.solves += p.Solves
	p.Strategy, p.First, p.FirstBound = LeastTotal, math.NaN(), math.NaN()
	if a.add(p, 0, nil) >= a.target() {
		even := p.spoiled().short(0, true) // all of every limit
		a.towards(ctx, 0, even, math.Min(1, p.Reached*(1+Spare)))
		return
	}
	short := p.spoiled().short(k, true)
	for i := range short {
		short[i] = math.Max(short[i], math.Max(p.Reached, middling))
	}
	m := &maker{plan: newPlan(a.all.file, a.opt), opt: a.opt}
	m.confine(shortened(short))
	r := m.find(ctx, lattice.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}, search.Options{Gap: nearCentre, Solves: closestSolves, Start: a.steps, Tell: a.opt.Tell})
	a.solves += r.Solves
	if r.Steps == nil {
		return
	}
	a.steps = append(a.steps, r.Steps)
	least := math.Min(1, r.Value*(1+Spare))
	if chance, _ := a.hold(ctx, k, parts(short, least)); chance >= a.target() {
		a.towards(ctx, k, short, least)
	}
}

// towards looks for the largest part of shortened limits that is enough, from one
// that is.
func (a *assuring) towards(ctx context.Context, k float64, short []float64, low float64) {
	high := 1.0
	for range halvings {
		part := (low + high) / 2
		if chance, found := a.hold(ctx, k, parts(short, part)); found && chance >= a.target() {
			low = part
		} else {
			high = part
		}
	}
}

func parts(short []float64, part float64) []float64 {
	out := slices.Clone(short)
	for i := range out {
		out[i] *= part
	}
	return out
}

func (a *assuring) enough(p likelyPlan) bool { return p.likely >= a.target() }

// add notes a plan for which the limits were held short, and gives its chance.
func (a *assuring) add(p *Plan, margin float64, short []float64) float64 {
	share := float64(p.spoiled().within(searchDraws, chanceSeed)) / searchDraws
	l := likelyPlan{Plan: p, likely: share, margin: margin}
	if short != nil {
		l.most, l.least = 1-slices.Min(short), 1-slices.Max(short)
	}
	a.likely = append(a.likely, l)
	return share
}

// narrow looks for the smallest margin that is enough, from one that is not.
// The chance as a Gaussian's quantile follows the margin almost on a line.
func (a *assuring) narrow(ctx context.Context, low float64) {
	tests := 2 * len(a.all.spoiled().tests)
	// Where each limit fails no more often than its part of what all may, that is
	// about enough.
	high := math.Max(low+0.5, quantile(1-(1-a.asked)/float64(tests)))
	nan := math.NaN()
	offLow, offHigh := nan, nan // quantile of the chance off the one wanted, at low and at high
	open := true                // nothing is known of high
	for range margins {
		k := (low + high) / 2
		if from, to := offLow, offHigh; from < 0 && to >= 0 {
			k = low + (high-low)*math.Min(0.85, math.Max(0.15, -from/(to-from)))
		}
		chance, found := a.try(ctx, k)
		off := quantile(math.Min(chance, 1-0.5/searchDraws)) - quantile(math.Min(a.target(), 1-0.5/searchDraws))
		switch {
		case ctx.Err() != nil:
			return
		case !found:
			high, offHigh, open = k, nan, false
		case chance >= a.target():
			high, offHigh, open = k, off, false
		default:
			low, offLow = k, off
			if open && high-low < 0.3 {
				high = math.Min(farthest, high+0.7)
			}
		}
		if high-low < nearMargin {
			return
		}
	}
}

// try plans with a margin.
func (a *assuring) try(ctx context.Context, k float64) (chance float64, found bool) {
	// Side moves are off only where something is moved: as in the plan before.
	last := a.likely[len(a.likely)-1].Plan
	short := last.spoiled().short(k, true)
	if slices.Min(short) < tightest {
		return 0, false
	}
	return a.hold(ctx, k, short)
}

// hold plans with the limits held short for a margin.
func (a *assuring) hold(ctx context.Context, k float64, short []float64) (chance float64, found bool) {
	m, r := a.find(ctx, short, assureSolves, math.Max(a.opt.Gap, assureGap))
	if r.Steps == nil {
		a.ran = a.ran || r.Status == search.Cut
		return 0, false
	}
	m.plan.Status, m.plan.Least = Planned, r.Value
	if err := m.plan.take(m.task.set(r.Steps)); err != nil {
		panic(err) // closer limits are kept, so these are
	}
	a.steps = append(a.steps, r.Steps)
	return a.add(m.plan, k, short), true
}

// tightest is the share of a limit below which nothing is tried: about what true
// geometry and whole steps come to.
const tightest = 0.02

// middling is the share of a limit that is always left where the middle of the limits
// is looked for, and halvings how often the way there from it is halved.
const (
	middling = 0.1
	halvings = 4
)

// find looks for the least total with the coupling limits held short.
func (a *assuring) find(ctx context.Context, short []float64, solves int, gap float64) (*maker, search.Result) {
	m := &maker{plan: newPlan(a.all.file, a.opt), opt: a.opt}
	m.confine(shortened(short))
	if a.opt.Solves > 0 {
		solves = min(solves, a.opt.Solves)
	}
	solves = min(solves, enough(len(m.task.problem.Vars)))
	r := m.find(ctx, lattice.Goal{Use: 1}, search.Options{Gap: gap, Solves: solves, Start: a.steps, Tell: a.opt.Tell})
	a.solves += r.Solves
	return m, r
}

// prove works out a total that every plan with the chance has at least: at each
// limit by itself it has that chance too. Errors of side moves are left out, as
// what is not moved has none.
func (a *assuring) prove(ctx context.Context, k float64) {
	short := a.all.spoiled().short(k, false)
	if slices.Min(short) <= 0 {
		a.none = true
		return
	}
	m, r := a.find(ctx, short, proofSolves, a.opt.Gap)
	bound := m.proven(r)
	a.none = math.IsInf(bound, 1)
	if bound > a.bound || math.IsNaN(a.bound) {
		a.bound = bound
	}
}

// finish is the plan with the least movement that has the chance by fresh draws too;
// where there is none the one with the highest chance.
func (a *assuring) finish(ctx context.Context) *Plan {
	all := a.likely[0]
	out := &Assurance{Asked: a.asked, None: a.none, Without: a.all.Total, WithoutChance: all.likely}
	slices.SortStableFunc(a.likely, func(p, q likelyPlan) int {
		good, other := a.enough(p), a.enough(q)
		switch {
		case good && other:
			return cmp.Compare(p.Total, q.Total)
		case good:
			return -1
		case other:
			return 1
		}
		return cmp.Compare(q.likely, p.likely)
	})
	best := a.likely[0]
	for _, p := range a.likely {
		p.Sure = p.Plan.chance(sureDraws, freshSeed)
		if p.Sure.Within >= a.asked {
			best, out.Reached = p, true
			break
		}
		if !a.enough(p) {
			break
		}
	}
	p := best.Plan
	out.Margin, out.Most, out.Least = best.margin, best.most, best.least
	p.Assurance, p.Solves, p.Kept = out, a.solves, 1
	if p.Bound = a.bound; a.none {
		p.Bound = a.all.Bound // of plans without the chance
	}
	p.Bound = math.Min(p.Bound, p.Total)
	m := &maker{plan: p, ran: a.ran}
	p.Cut = m.cut(ctx)
	return p
}
