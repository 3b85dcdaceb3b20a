package view

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// Thresholds of the chance of ending within all limits, shares: ours, common practice,
// no source.
const (
	UsualChance = 0.95             // from which on a plan is to be carried out, where the file states none
	LeastChance = ways.LeastChance // below which a plan is not advised
)

// A PlanVerdict is whether a plan is to be carried out, why, and what would help.
type PlanVerdict struct {
	Kind   VerdictKind
	Reason VerdictReason
	Chance float64       // share of simulated jobs within all limits; NaN: not worked out
	Wanted float64       // share, from which on a plan is to be carried out
	Least  float64       // share, below which it is not advised
	Growth []int         // machines whose growth is not stated
	Next   []VerdictStep // what would raise the chance: another plan first, then a measurement
}

// A VerdictKind is what comes of judging a plan.
type VerdictKind string

const (
	CarryOut   VerdictKind = "carry-out"
	Marginal   VerdictKind = "marginal"
	NotAdvised VerdictKind = "not-advised"
	NotJudged  VerdictKind = "not-judged"
)

// A VerdictReason is why.
type VerdictReason string

const (
	ChanceKept   VerdictReason = "chance-kept"   // at least Wanted
	ChanceShort  VerdictReason = "chance-short"  // below Wanted, not below Least
	ChanceLow    VerdictReason = "chance-low"    // below Least
	NoErrors     VerdictReason = "no-errors"     // the file does not state how good the readings are
	NoGrowth     VerdictReason = "no-growth"     // of some machines
	NoRun        VerdictReason = "no-run"        // journal shift of some shafts, growth of all machines
	NoGap        VerdictReason = "no-gap"        // a limited distance between shaft ends, as found or as wanted
	LimitsBroken VerdictReason = "limits-broken" // the moves break limits
)

// A VerdictStep is one thing that would raise the chance, or that is missing.
type VerdictStep struct {
	Kind   VerdictStepKind
	Row    int                  // of OtherPlans.Rows, for another plan; -1: none
	Better optimize.Measurement // for a measurement; Machine also for growth that is to be stated
	Chance float64              // share that it brings; NaN: not known
	Enough bool                 // that is at least Wanted
}

// A VerdictStepKind is one kind of it.
type VerdictStepKind string

const (
	TakePlan    VerdictStepKind = "take-plan"    // carry out another plan
	MeasureWell VerdictStepKind = "measure"      // halve the error of one measurement
	StateErrors VerdictStepKind = "state-errors" // state [errors]
	StateGrowth VerdictStepKind = "state-growth" // state the growth of a machine
)

// VerdictOn judges a plan. wanted is the chance from which on it is to be carried out; 0:
// the usual one. nil: there are no moves to judge.
func VerdictOn(p *optimize.Plan, others *OtherPlans, wanted float64) *PlanVerdict {
	if p.Moves == nil {
		return nil
	}
	if wanted == 0 {
		wanted = UsualChance
	}
	v := &PlanVerdict{Chance: math.NaN(), Wanted: wanted, Least: LeastChance, Growth: optimize.GrowthMissing(p.Train)}
	if p.Probability != nil {
		v.Chance = p.Probability.Within
	}
	switch {
	case len(p.Broken) > 0:
		v.Kind, v.Reason = NotAdvised, LimitsBroken
	case p.Train.Errors == (train.Errors{}):
		v.Kind, v.Reason = NotJudged, NoErrors
	case len(v.Growth) > 0 || len(p.Train.Unstated()) > 0:
		v.Kind, v.Reason = NotJudged, NoGrowth
		if len(v.Growth) == 0 {
			v.Reason = reasonOf(p.Train.Unstated())
		}
	case p.Probability == nil:
		v.Kind, v.Reason = NotJudged, NoErrors
	case v.Chance >= wanted:
		v.Kind, v.Reason = CarryOut, ChanceKept
	case v.Chance >= LeastChance:
		v.Kind, v.Reason = Marginal, ChanceShort
	default:
		v.Kind, v.Reason = NotAdvised, ChanceLow
	}
	switch v.Kind {
	case NotJudged:
		v.missing(p)
	case Marginal, NotAdvised:
		v.takePlan(others, drawError(p.Probability))
		v.measure(p.Probability)
	}
	return v
}

// missing are the steps where something is not stated.
func (v *PlanVerdict) missing(p *optimize.Plan) {
	step := VerdictStep{Row: -1, Better: optimize.Measurement{Coupling: -1, Machine: -1}, Chance: math.NaN()}
	if p.Train.Errors == (train.Errors{}) {
		step.Kind = StateErrors
		v.Next = append(v.Next, step)
	}
	for _, i := range v.Growth {
		step.Kind, step.Better.Source, step.Better.Machine = StateGrowth, optimize.FromGrowth, i
		v.Next = append(v.Next, step)
	}
}

// nearHighest is how far below the highest chance, as a share, a plan of a smaller total is named in its place, where
// it brings at least half of what the highest one does: ours, no source.
const nearHighest = 0.05

// takePlan is the step to another plan: the one of the smallest total that has the chance wanted, else of those about
// as likely as the most likely one. Where none is likely enough to be advised it is what shows the highest chance;
// where the plan is itself one of those there is no such step.
func (v *PlanVerdict) takePlan(others *OtherPlans, error float64) {
	highest, best := v.Chance+2*error, -1 // more than the draws tell
	for n := range others.Rows {
		if o := &others.Rows[n]; !o.This && o.chance() > highest {
			highest, best = o.chance(), n
		}
	}
	if best < 0 {
		return
	}
	enough := v.Wanted
	if highest < v.Wanted && v.Chance >= math.Max(v.Least, highest-nearHighest) {
		return
	}
	if highest < v.Wanted {
		enough = math.Max(v.Least, math.Max(highest-nearHighest, (v.Chance+highest)/2))
	}
	for n := range others.Rows {
		o, b := &others.Rows[n], &others.Rows[best]
		if !o.This && o.Found && o.Chance >= enough && (!b.Found || o.Total < b.Total) {
			best = n
		}
	}
	chance := others.Rows[best].chance()
	v.Next = append(v.Next, VerdictStep{
		Kind: TakePlan, Row: best, Better: optimize.Measurement{Coupling: -1, Machine: -1},
		Chance: chance, Enough: chance >= v.Wanted,
	})
}

// chance is that of the plan that the row's command prints, a share.
func (o *OtherPlan) chance() float64 {
	if o.Found {
		return o.Chance
	}
	return o.Highest
}

// measure is the step to the one measurement that helps most, where that is more than the
// draws tell.
func (v *PlanVerdict) measure(c *optimize.Probability) {
	if c == nil || len(c.Better) == 0 {
		return
	}
	better := c.Better[0]
	if better.Within > c.Within+2*drawError(c) {
		v.Next = append(v.Next, VerdictStep{
			Kind: MeasureWell, Row: -1, Better: better.Measurement, Chance: better.Within, Enough: better.Within >= v.Wanted,
		})
	}
}

// drawError is the standard error of a chance by draws, a share; 0: no chance is known.
func drawError(c *optimize.Probability) float64 {
	if c == nil {
		return 0
	}
	return math.Max(c.Error, 1/float64(c.Draws))
}

// reasonOf is the reason that no chance is given where growth is stated as far as its file can say: growth first.
func reasonOf(open []train.Unstated) VerdictReason {
	of := func(k train.UnstatedKind) bool {
		return slices.ContainsFunc(open, func(u train.Unstated) bool { return u.Kind == k })
	}
	switch {
	case of(train.UnstatedGrowth) || of(train.UnstatedAlong):
		return NoGrowth
	case of(train.UnstatedRun):
		return NoRun
	}
	return NoGap
}
