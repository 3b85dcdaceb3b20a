package robust

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// This file has the plans that are tried for a chance: limits backed off,
// or towards their middle.

// middle tries the closest alignment, and the one that keeps the largest part of what
// a back-off leaves of every limit; where that has the chance, limits between the two.
func (a *chanceSearch) middle(ctx context.Context, k float64) {
	opt := a.opt
	opt.Strategy, opt.Solves = optimize.Closest, closestSolves
	p, err := optimize.Make(ctx, a.all.File, opt)
	if err != nil || p.Moves == nil {
		return
	}
	a.solves += p.Solves
	p.Strategy, p.First, p.FirstBound = optimize.LeastTotal, math.NaN(), math.NaN()
	if a.add(ctx, p, 0, nil) >= a.target() {
		even := newErrorModel(p).backOff(0, true) // all of every limit
		a.towards(ctx, 0, even, math.Min(1, p.Reached*(1+optimize.Spare)))
		return
	}
	short := newErrorModel(p).backOff(k, true)
	for i := range short {
		short[i] = math.Max(short[i], math.Max(p.Reached, middling))
	}
	m := optimize.NewSolver(a.all.File, a.opt)
	m.Confine(ctx, BackedOff(short))
	r := m.Find(ctx, optimize.LowestUse(),
		bnb.Options{Gap: NearCentre, Solves: closestSolves, Start: a.steps, Tell: a.opt.Tell})
	a.solves += r.Solves
	if r.Steps == nil {
		return
	}
	a.steps = append(a.steps, r.Steps)
	least := math.Min(1, r.Value*(1+optimize.Spare))
	if chance, _ := a.hold(ctx, k, parts(short, least)); chance >= a.target() {
		a.towards(ctx, k, short, least)
	}
}

// towards looks for the largest part of shortened limits that is enough, from one
// that is.
func (a *chanceSearch) towards(ctx context.Context, k float64, short []float64, low float64) {
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

// narrow looks for the smallest back-off that is enough, from one that is not.
// The chance as a Gaussian's Quantile follows the back-off almost on a line.
func (a *chanceSearch) narrow(ctx context.Context, low float64) {
	// Where each limit fails no more often than its part of what all may, that is
	// about enough.
	high := math.Max(low+0.5, EvenBackOff(a.all, a.asked))
	nan := math.NaN()
	offLow, offHigh := nan, nan // quantile of the chance off the one wanted, at low and at high
	open := true                // nothing is known of high
	for range mostBackOffs {
		k := (low + high) / 2
		if from, to := offLow, offHigh; from < 0 && to >= 0 {
			k = low + (high-low)*math.Min(0.85, math.Max(0.15, -from/(to-from)))
		}
		chance, found := a.try(ctx, k)
		off := Quantile(math.Min(chance, 1-0.5/searchDraws)) - Quantile(math.Min(a.target(), 1-0.5/searchDraws))
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
		if high-low < NearBackOff {
			return
		}
	}
}

// try plans with a back-off.
func (a *chanceSearch) try(ctx context.Context, k float64) (chance float64, found bool) {
	// Side moves are off only where something is moved: as in the plan before.
	last := a.found[len(a.found)-1].Plan
	short := newErrorModel(last).backOff(k, true)
	if slices.Min(short) < Tightest {
		return 0, false
	}
	return a.hold(ctx, k, short)
}

// hold plans with the limits held short by a back-off.
func (a *chanceSearch) hold(ctx context.Context, k float64, short []float64) (chance float64, found bool) {
	m, r := a.find(ctx, short, chanceSolves, math.Max(a.opt.Gap, chanceGap))
	if r.Steps == nil {
		a.ran = a.ran || r.Status == bnb.Cut
		return 0, false
	}
	if err := m.Take(r, math.NaN(), 1); err != nil {
		panic(err) // closer limits are kept, so these are
	}
	a.steps = append(a.steps, r.Steps)
	return a.add(ctx, m.Plan, k, short), true
}

// Tightest is the share of a limit below which nothing is tried: about what true
// geometry and whole steps come to.
const Tightest = 0.02

// middling is the share of a limit that is always left where the middle of the limits
// is looked for, and halvings how often the way there from it is halved.
const (
	middling = 0.1
	halvings = 4
)

// find looks for the least total with the coupling limits held short.
func (a *chanceSearch) find(ctx context.Context, short []float64, solves int, gap float64) (*optimize.Solver,
	bnb.Result) {
	m := optimize.NewSolver(a.all.File, a.opt)
	m.Confine(ctx, BackedOff(short))
	if a.opt.Solves > 0 {
		solves = min(solves, a.opt.Solves)
	}
	solves = min(solves, optimize.WorthSolving(len(m.Model.Problem.Vars)))
	r := m.Find(ctx, mip.Goal{Use: 1}, bnb.Options{Gap: gap, Solves: solves, Start: a.steps, Tell: a.opt.Tell})
	a.solves += r.Solves
	return m, r
}
