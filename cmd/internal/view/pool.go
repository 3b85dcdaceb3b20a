package view

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize/ways"
	"leastmove/train"
)

// AskWithout is the question for the plan that leaves a machine out.
const AskWithout = ways.AskWithout

// OtherPlans are the plans beside the one that was asked for, all from one pool.
type OtherPlans struct {
	Rows     []OtherPlan // in the order of the page, doubles merged
	Weighted bool        // totals are weighted by effort or have fixed costs in them
	Needed   []int       // machines without which nothing keeps within Use of the coupling limits, proven
	Use      float64     // share
	Missed   *MissedAim  // nil: the aim is kept
}

// An OtherPlan is one row of the plans beside the one that was asked for.
type OtherPlan struct {
	Questions []ways.Question // that it answers, in the order of the page
	Flags     []string        // of `leastmove plan FILE` that print this plan
	Found     bool            // there is a plan; where not, the numbers are NaN
	None      bool            // proven: there is no plan
	This      bool            // it is the plan that was asked for

	Moves    train.Moves // mm; nil without a plan
	Machines []int       // that move
	Feet     int         // count of feet that move
	Total    float64     // mm, as the plan's total
	Plain    float64     // mm, without weights
	Largest  float64     // mm, largest move at any foot: up, to a side or along the train
	Share    float64     // worst share of a coupling limit in any condition
	Chance   float64     // share of simulated jobs within all limits; NaN: no errors are stated
	Highest  float64     // share, highest chance of any plan found, where a chance is asked for that none has; else NaN
}

// A MissedAim is what is to be said where the aim can't be kept: the plan is the least
// total a little above the lowest worst share.
type MissedAim struct {
	Aim    float64 // share of the coupling limits that was asked for
	Above  float64 // share, what the plan may use less what the lowest plan has, at most
	Lowest int     // row of OtherPlans with the lowest worst share; -1: none
}

// An Asked is the plan that was asked for, what else there is, and whether to carry it out.
type Asked struct {
	Plan    *Plan
	Others  OtherPlans
	Verdict *PlanVerdict // nil: there are no moves to judge
}

// Pools keep what was found for those who ask many questions of the same trains.
type Pools = ways.Pools

// Ask plans a train, from one pool with all other plans of the page; pools that are kept, nil: none are. wanted is
// the chance from which on a plan is to be carried out; 0: the usual one.
func Ask(ctx context.Context, pools *Pools, t *train.Train, opt Options, chance, wanted float64) (*Asked, error) {
	wanted = cmp.Or(wanted, UsualChance)
	a, err := pools.Ask(ctx, t, opt, chance, wanted)
	if err != nil {
		return nil, err
	}
	out := &Asked{Plan: Of(a.Plan), Others: otherPlansOf(a)}
	out.Verdict = VerdictOn(a.Plan, &out.Others, wanted)
	out.Plan.Verdict, out.Plan.Others, out.Plan.pool = out.Verdict, &out.Others, a.Pool
	return out, nil
}

// AsFile is the chance that a plan is asked for: the one that is given (0: none), or that of the train file where
// options say nothing else. The file's own share of the limits in the options is the plan that it would have without.
func AsFile(t *train.Train, opt *Options, chance float64) float64 {
	switch {
	case t.Aim.Chance == 0, chance > 0, opt.Strategy != "" && opt.Strategy != LeastTotal, !t.ChanceKnown():
	case opt.Use == t.Aim.Use:
		opt.Use = 0
	case opt.Use == 0:
		return t.Aim.Chance
	}
	return chance
}

// otherPlansOf are the plans beside what was asked for.
func otherPlansOf(a *ways.Asked) OtherPlans {
	p, nan := a.Pool, math.NaN()
	out := OtherPlans{Weighted: ways.Weighted(a.Plan.Train), Needed: p.Needed}
	if len(p.Rows) > 0 {
		out.Use = p.Rows[0].Use
	}
	lowest := -1
	for n, o := range a.Others() {
		row := OtherPlan{
			Questions: o.Questions, Flags: p.Flags(&o.Questions[0]), Found: o.Plan >= 0, None: o.None, This: o.This,
			Total: nan, Plain: nan, Largest: nan, Share: nan, Chance: nan,
			Highest: nan,
		}
		if row.Found {
			x := &p.Plans[o.Plan]
			row.Moves, row.Machines, row.Feet, row.Total, row.Plain = x.Moves, x.Machines, x.Feet, x.Total, x.Plain
			row.Largest, row.Share, row.Chance = x.Largest, x.Share, x.Chance
		}
		if row.This && a.Plan.Probability != nil { // a clock may have left one of the two fewer simulated jobs
			row.Chance = a.Plan.Probability.Within
		}
		if !row.Found {
			row.Flags = slices.Concat(row.Flags, a.Held())
		}
		if n := p.MostLikely(); !row.Found && o.Questions[0].Chance > 0 && n >= 0 && a.Held() == nil {
			row.Highest = p.Plans[n].Chance
		}
		for _, q := range o.Questions {
			if q.Kind == ways.AskClosest && row.Found {
				lowest = n
			}
		}
		out.Rows = append(out.Rows, row)
	}
	if a.Kind == ways.AskLeast && a.Plan.Kept > a.Plan.Aim*(1+Fair) {
		out.Missed = &MissedAim{Aim: a.Plan.Aim, Above: ways.AboveLowest, Lowest: lowest}
	}
	return out
}
