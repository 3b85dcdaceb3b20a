package view

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// A Comparison is ways to move a train side by side.
type Comparison struct {
	Train    *train.Train // as the first way has it
	AsFound  *Check
	Weighted bool     // totals have the file's weights in them
	Chances  bool     // the file states errors, so that chances are known
	Ways     []Way    // one or more
	Merged   [][]int  // of Ways: those that are the same plan, in their order
	Subsets  *Subsets // nil: not asked for
	Trade    *Trade   // nil: not asked for
}

// A Way is one way to move a train, and what comes of it.
type Way struct {
	Kind     WayKind
	Strategy Strategy // of a planned way
	Machine  int      // that is held, or from which a cascade starts; -1: none
	Plan     *Plan
	Outcome
}

// A WayKind is a kind of way.
type WayKind = ways.WayKind

// Kinds of ways.
const (
	ByStrategy = ways.ByStrategy
	ByHolding  = ways.ByHolding
	ByCascade  = ways.ByCascade
	ByLine     = ways.ByLine
)

// An Outcome is what the moves of a plan come to, as ways are compared by it; zero without moves.
type Outcome struct {
	Machines  []int       // that are moved
	Feet      int         // that are moved
	Pieces    int         // shims that go out and in
	AllPieces bool        // there are no more of them
	Nearest   *Nearest    // nil: the machines that are moved have no stated limit of a foot
	Broken    []BrokenAll // limits that the moves break, each once for all feet of a machine
	Unproven  bool        // the strategy's own measure: it was not proven to be within unproven of the least
}

// Nearest is the limit of a foot that a plan comes nearest to.
type Nearest struct {
	Constraint
	Left float64 // mm, negative where it is broken
}

// UsedOver are the shares that a coupling uses of its limits.
type UsedOver struct {
	Governing int       // the condition in which it is most
	Shares    []float64 // in each condition, of the limit that is used most; 1 is at the limit
}

// A BrokenAll is a limit that moves break, at one foot or several.
type BrokenAll struct {
	Worst Constraint // where it is broken by most
	Feet  []int      // of its machine; nil: it is no foot's limit
}

// unproven is the share by which a strategy's own measure may be above what is proven and still be
// called the least.
const unproven = 0.02

// CompareWays plans a train in every way. from is a plan of the train by the same options, which those
// that start from the same aim start from; nil: there is none yet. Where no share of the limits and no
// limit of time is asked for, what the pool of plans answers is answered from it, as for every other
// page. An error is one of planning.
func CompareWays(ctx context.Context, t *train.Train, opt optimize.Options, from *Plan) (*Comparison, error) {
	var pool *ways.Pool
	_, timed := ctx.Deadline()
	switch {
	case timed: // each way has its share of the time
	case from != nil && from.pool != nil && from.pool.Fits(&opt):
		pool = from.pool
	case opt.Use == 0:
		var err error
		brief := opt
		brief.Brief = true
		if pool, err = ways.MakePool(ctx, t, brief, cmp.Or(t.Aim.Chance, UsualChance)); err != nil {
			return nil, err
		}
	}
	if from != nil {
		opt.From = from.plan
	}
	all, err := ways.Compare(ctx, t, opt, pool)
	if err != nil {
		return nil, err
	}
	return CompareOf(all), nil
}

// CompareOf are the facts of ways.
func CompareOf(all []ways.Way) *Comparison {
	t := all[0].Plan.Train
	c := &Comparison{Train: t, AsFound: CheckOf(t), Weighted: ways.Weighted(t), Chances: t.Errors != train.Errors{}}
	seen := map[*optimize.Plan]int{} // a plan may be that of several ways
	for n, w := range all {
		first, is := seen[w.Plan]
		if !is {
			seen[w.Plan] = n
			c.Ways = append(c.Ways, Way{w.Kind, w.Strategy, w.Machine, Of(w.Plan), outcomeOf(w.Plan)})
			continue
		}
		c.Ways = append(c.Ways, Way{w.Kind, w.Strategy, w.Machine, c.Ways[first].Plan, c.Ways[first].Outcome})
	}
	c.Merged = mergedOf(all)
	return c
}

// Planned are the plans within the limits.
func (c *Comparison) Planned() []*Plan {
	var out []*Plan
	for n := range c.Ways {
		w := &c.Ways[n]
		if (w.Kind == ByStrategy || w.Kind == ByHolding) && w.Plan.Status == Planned {
			out = append(out, w.Plan)
		}
	}
	return out
}

// mergedOf are ways that are the same plan; without a plan each is by itself.
func mergedOf(all []ways.Way) [][]int {
	var out [][]int
	for n, w := range all {
		same := func(group []int) bool {
			p := all[group[0]].Plan
			return w.Plan.Moves != nil && p.Moves != nil && p.Status == w.Plan.Status &&
				slices.EqualFunc(p.Moves, w.Plan.Moves, slices.Equal[[]train.FootMove])
		}
		if at := slices.IndexFunc(out, same); at >= 0 {
			out[at] = append(out[at], n)
			continue
		}
		out = append(out, []int{n})
	}
	return out
}

// OutcomeOf is what the moves of a plan come to.
func OutcomeOf(p *Plan) Outcome { return outcomeOf(p.plan) }

func outcomeOf(p *optimize.Plan) Outcome {
	out := Outcome{Broken: brokenOf(p.Broken)}
	if p.Status == optimize.Planned && !math.IsNaN(p.First) && p.Strategy != optimize.Closest {
		out.Unproven = !(p.FirstBound >= p.First*(1-unproven))
	}
	out.Pieces, out.AllPieces = p.Handled()
	if p.Moves == nil {
		return out
	}
	out.Feet = p.FeetMoved()
	for i := range p.Moves {
		if p.Moves.Moved(i) {
			out.Machines = append(out.Machines, i)
		}
	}
	if e, ok := p.Reserve(); ok {
		out.Nearest = &Nearest{e, e.Bound - e.Value}
	}
	return out
}

// usedOf are the shares that couplings use of their limits, [coupling][condition].
func usedOf(couplings [][]train.Reading) []UsedOver {
	var out []UsedOver
	for _, conditions := range couplings {
		u := UsedOver{Governing: Driving(conditions)}
		for k := range conditions {
			u.Shares = append(u.Shares, conditions[k].Worst())
		}
		out = append(out, u)
	}
	return out
}

// brokenOf are broken limits, those of several feet of a machine once.
func brokenOf(limits []optimize.Constraint) []BrokenAll {
	var out []BrokenAll
	at := map[optimize.Limit]int{}
	for _, e := range limits {
		key := e.Limit
		key.Foot = -1
		if e.Coupling < 0 {
			key.Condition = -1 // cold and hot are one limit of a foot
		}
		n, there := at[key]
		if !there {
			n = len(out)
			at[key], out = n, append(out, BrokenAll{Worst: e})
		}
		g := &out[n]
		if e.Foot >= 0 && !slices.Contains(g.Feet, e.Foot) {
			g.Feet = append(g.Feet, e.Foot)
		}
		if e.Value-e.Bound > g.Worst.Value-g.Worst.Bound {
			g.Worst = e
		}
	}
	return out
}
