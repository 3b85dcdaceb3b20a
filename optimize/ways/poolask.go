package ways

import (
	"context"
	"math"
	"slices"
	"strconv"

	"leastmove/optimize"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// This file has the way from the flags of a command to a plan of the pool and back. A row
// is what the command beside it prints, as both are the same question to the same pool.

// An Asked is the plan that was asked for, and the pool of other plans beside it.
type Asked struct {
	Plan *optimize.Plan
	Pool *Pool
	// Kind is the row of the pool that Plan is; "": the plan was made by itself, as no
	// row asks for it, or as the row has no plan.
	Kind QuestionKind
}

// Ask makes the plan that options and a chance ask for (0: no chance), with the other
// plans beside it. judged is the chance of the pool's own row. What a row asks for is
// answered from the pool alone, all else by Make and MakeWithProbability or the pool,
// whichever has the smaller total.
func (k *Pools) Ask(ctx context.Context, t *train.Train, opt optimize.Options, chance, judged float64) (*Asked,
	error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Limit = 0
	kind := rowFor(&opt, chance, judged)
	first := opt.First
	if kind != AskLeast {
		opt.First = nil // the plan that the pool starts from is another one
	}
	var pool *Pool
	var err error
	if machine := optimize.Named(t, opt.Hold...); kind == AskLeast && machine >= 0 && len(opt.Free) == 0 {
		// Maybe what the pool of the file has without a machine.
		all := opt
		all.Hold, all.First = nil, nil
		if pool, err = k.pool(ctx, t, all, judged); err != nil {
			return nil, err
		}
		if r := pool.rowOf(AskWithout, machine); r != nil && r.aside == nil {
			plan, err := pool.make(ctx, r, opt.Brief, first)
			return &Asked{plan, pool, AskWithout}, err
		}
		pool, err = pool.Held(ctx, machine, opt)
	} else {
		pool, err = k.pool(ctx, t, opt, judged)
	}
	if err != nil {
		return nil, err
	}
	if r := pool.RowOf(AskInReach); r != nil && kind == "" && r.Chance == chance {
		kind = AskInReach
	}
	if kind == AskLeast && pool.Rows == nil {
		if !opt.Brief && pool.Base.Probability == nil {
			pool.Base.Probability = robust.MonteCarlo(ctx, pool.Base, robust.Draws)
		}
		return &Asked{pool.Base, pool, AskLeast}, nil
	}
	r := pool.RowOf(kind)
	switch {
	case r != nil && r.Plan >= 0:
		if kind == AskLeast && r.Plan == 0 {
			first = nil // it was told of
		}
		plan, err := pool.make(ctx, r, opt.Brief, first)
		return &Asked{plan, pool, kind}, err
	case r != nil && kind == AskChance:
		plan, err := pool.shortOf(ctx, r, opt.Brief)
		return &Asked{plan, pool, kind}, err
	}
	opt.First = first
	plan, err := pool.alone(ctx, t, opt, chance)
	return &Asked{plan, pool, ""}, err
}

// alone makes a plan that no row asks for, or whose row has none, by a search of its own;
// where the pool has one of a smaller total that keeps the same, it is that one.
func (p *Pool) alone(ctx context.Context, t *train.Train, opt optimize.Options, chance float64) (*optimize.Plan,
	error) {
	var own *optimize.Plan
	var err error
	if chance > 0 {
		own, err = MakeWithProbability(ctx, t, opt, chance)
	} else {
		own, err = Make(ctx, t, opt)
	}
	total := opt.Strategy == "" || opt.Strategy == optimize.LeastTotal
	if err != nil || p.Rows == nil || !total || chance == 0 && opt.Use == 0 {
		return own, err
	}
	q := Question{Kind: AskMargin, Use: opt.Use, Machine: -1}
	if chance > 0 {
		q = Question{Kind: AskChance, Use: 1, Machine: -1, Chance: chance}
	}
	best := p.best(&q, math.Inf(1))
	switch {
	case best < 0, own.Status == optimize.Within:
		return own, nil
	case own.Moves == nil, own.ChanceConstraint != nil && !own.ChanceConstraint.Reached:
	case chance == 0 && own.Reached > opt.Use*(1+optimize.CheckTolerance): // the aim was missed
	case own.Total <= p.Plans[best].Total:
		return own, nil
	}
	r := Row{Question: q, Plan: best, least: own.Bound, lowest: math.NaN()}
	return p.Make(ctx, &r, opt.Brief)
}

// shortOf is the plan with the highest chance, where no plan with the one that a row asks
// for was found; where a clock let no chance be worked out, the plan that the pool starts from.
func (p *Pool) shortOf(ctx context.Context, r *Row, brief bool) (*optimize.Plan, error) {
	high := *r
	high.Plan = max(0, p.MostLikely())
	plan, err := p.Make(ctx, &high, brief)
	if err != nil {
		return nil, err
	}
	plan.ChanceConstraint.Reached, plan.ChanceConstraint.None = false, r.None
	return plan, nil
}

// rowFor is the row that options and a chance ask for; "": none.
func rowFor(opt *optimize.Options, chance, judged float64) QuestionKind {
	least := opt.Strategy == "" || opt.Strategy == optimize.LeastTotal
	switch {
	case chance == judged && chance > 0:
		return AskChance
	case chance > 0:
		return ""
	case opt.Use == Margin && least:
		return AskMargin
	case opt.Use > 0:
		return ""
	case least:
		return AskLeast
	case opt.Strategy == optimize.FewestMachines:
		return AskFewest
	case opt.Strategy == optimize.Closest:
		return AskClosest
	}
	return ""
}

// Flags are those with which `leastmove plan FILE` prints a row.
func (p *Pool) Flags(q *Question) []string {
	var out []string
	add := func(flag, value string) { out = append(out, "--"+flag, value) }
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	switch q.Kind {
	case AskFewest:
		add("strategy", string(optimize.FewestMachines))
	case AskMargin:
		add("use", number(q.Use))
	case AskChance, AskInReach:
		add("assure", number(q.Chance))
	case AskClosest:
		add("strategy", string(optimize.Closest))
	case AskWithout:
		add("hold", p.train.Machines[q.Machine].Name)
	}
	if (q.Kind == AskLeast || q.Kind == AskWithout) && p.train.Aim.Chance > 0 { // else it is the plan with that chance
		add("use", number(p.train.Aim.Use))
	}
	for _, name := range p.options.Hold {
		add("hold", name)
	}
	for _, name := range p.options.Free {
		add("free", name)
	}
	if p.options.Solves > 0 {
		add("work", strconv.Itoa(p.options.Solves))
	}
	if gap := p.options.Gap; gap != 0 && gap != usualGap {
		add("gap", number(100*gap))
	}
	return out
}

// usualGap is the relative gap of a plan for which nothing is asked.
const usualGap = 0.001

// Options are those with which Ask gives a row, and the chance.
func (p *Pool) Options(q *Question) (opt optimize.Options, chance float64) {
	opt = p.options
	switch q.Kind {
	case AskFewest:
		opt.Strategy = optimize.FewestMachines
	case AskMargin:
		opt.Use = q.Use
	case AskChance, AskInReach:
		chance = q.Chance
	case AskClosest:
		opt.Strategy = optimize.Closest
	case AskWithout:
		opt.Hold = slices.Concat(opt.Hold, []string{p.train.Machines[q.Machine].Name})
	}
	return opt, chance
}

// Make is the plan of a row in full; brief leaves out shadow prices. An error means a
// fault of this program.
func (p *Pool) Make(ctx context.Context, r *Row, brief bool) (*optimize.Plan, error) {
	return p.make(ctx, r, brief, nil)
}

// make is Make that tells of the plan, where no chance was asked for, before anything is proven of it; nil: it does
// not.
func (p *Pool) make(ctx context.Context, r *Row, brief bool, first func(*optimize.Plan)) (*optimize.Plan, error) {
	if r.aside != nil {
		return r.aside.make(ctx, r.aside.RowOf(AskLeast), brief, first)
	}
	opt, _ := p.Options(&r.Question)
	t, err := optimize.Given(p.train, opt)
	if err != nil {
		return nil, err
	}
	found := &p.Plans[r.Plan]
	out, nan := optimize.NewSolver(t, opt).Plan, math.NaN()
	out.Status, out.Solves = optimize.Planned, p.Base.Solves+p.Solves
	out.Least, out.Bound, out.Kept = found.Total, nan, r.Use
	if r.Kind == AskLeast || r.Use > out.Aim && r.Kind != AskClosest {
		out.Lowest = p.Base.Lowest // what holds with every machine holds with fewer
	}
	switch r.Kind {
	case AskLeast:
		if r.Plan == 0 {
			out.Least = p.Base.Least
			out.BeginAs(p.Base)
		}
		out.Cut = p.Base.Cut
	case AskFewest:
		out.First = float64(len(found.Machines))
	case AskClosest:
		out.First = found.Share
		out.Kept = math.Min(1, found.Share*(1+optimize.CheckTolerance))
		out.Aim = out.Kept
	case AskChance, AskInReach:
		out.Aim = r.Use
		out.ChanceConstraint = &optimize.ChanceConstraint{
			Asked: r.Chance, Reached: true, BackOff: nan, Most: nan, Least: nan, Without: nan, WithoutProbability: nan,
		}
	}
	if err := out.Take(found.Moves, out.Kept); err != nil {
		return nil, err
	}
	if first != nil && r.Chance == 0 {
		early := *out
		first(&early)
	}
	out.Bound = p.Bound(ctx, r)
	out.FirstOrderBound = out.Bound
	if r.Kind == AskFewest || r.Kind == AskClosest {
		out.FirstBound = p.First(ctx, r)
	}
	out.Probability = robust.MonteCarlo(ctx, out, robust.Draws)
	if !brief && opt.Strategy.Plain() && r.Chance == 0 {
		m := &optimize.Solver{Plan: out, Options: opt}
		m.Linearize(ctx)
		out.ShadowPrices = shadowPrices(ctx, m, out.Kept)
	}
	return out, nil
}

// An Other is one plan beside the one that was asked for, as a page has it: rows with the
// same answer are one.
type Other struct {
	Questions []Question // that it answers, in the order of the page
	Plan      int        // index of Pool.Plans; -1: none was found
	None      bool       // proven: there is none
	This      bool       // it is the plan that was asked for
}

// Others are the rows beside a plan, in their order. A row is left out where its plan
// moves a machine that the plan's train holds, and where the plan keeps what the row asks
// with a smaller total.
func (a *Asked) Others() []Other {
	p := a.Pool
	var out []Other
	for n := range p.Rows {
		r := &p.Rows[n]
		if r.Plan < 0 {
			out = append(out, Other{Questions: []Question{r.Question}, Plan: -1, None: r.None})
			continue
		}
		x := &p.Plans[r.Plan]
		if slices.ContainsFunc(x.Machines, func(i int) bool { return a.Plan.Train.Machines[i].Hold }) || a.beats(r) {
			continue
		}
		at := slices.IndexFunc(out, func(o Other) bool { return o.Plan == r.Plan })
		if at >= 0 {
			out[at].Questions = append(out[at].Questions, r.Question)
			continue
		}
		out = append(out, Other{Questions: []Question{r.Question}, Plan: r.Plan, This: a.same(x)})
	}
	return out
}

// Held are the flags of the machine that the plan that was asked for leaves alone and the pool's others need not; nil:
// there is none.
func (a *Asked) Held() []string {
	if a.Kind != AskWithout {
		return nil
	}
	return []string{"--hold", a.Pool.train.Machines[a.Pool.RowOf(AskWithout).Machine].Name}
}

// same says whether a plan of the pool is the one that was asked for.
func (a *Asked) same(x *PooledPlan) bool {
	return slices.EqualFunc(x.Moves, a.Plan.Moves, func(m, n []train.FootMove) bool { return slices.Equal(m, n) })
}

// beats says whether the plan that was asked for, made by itself, keeps what a row asks
// with a smaller total.
func (a *Asked) beats(r *Row) bool {
	if a.Kind != "" || a.Plan.Moves == nil || r.Kind == AskFewest || r.Kind == AskClosest {
		return false
	}
	own := PooledPlan{Share: a.Plan.Reached, Chance: math.NaN()}
	if a.Plan.Probability != nil {
		own.Chance = a.Plan.Probability.Within
	}
	for i := range a.Plan.Moves {
		if a.Plan.Moves.Moved(i) {
			own.Machines = append(own.Machines, i)
		}
	}
	return r.Keeps(&own) && a.Plan.Total < a.Pool.Plans[r.Plan].Total
}
