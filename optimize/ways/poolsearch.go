package ways

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/infeasible"
	"leastmove/optimize/mip"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// This file finds the plans of a pool. After Make, two rounds of searches go side by side,
// each from the plans of the round before. A search has a fixed number of cone programs,
// a part of what Make took, so the plans are the same on any number of processors.

// Parts of the cone programs of Make that each search of a pool may solve at most.
const (
	partMargin  = 0.54
	partLowest  = 0.03
	partClosest = 0.02
	partCloser  = 0.01
	partFewest  = 0.05
	partWithout = 0.03
	partChance  = 0.05
)

// Parts of that work, in the tries of breakouts that take about as long: they find more than as
// many programs do, above all where the worst share is least.
const (
	lowestTries  = 0.1
	closestTries = 0.14
	closerTries  = 0.005
	fewestTries  = 0.02
	totalTries   = 0.05
)

// leastClosest is how many programs a search for the closest couplings may solve at least.
const leastClosest = 5

// Programs that go on where a search has found nothing, or nothing near, and has not proven that there is nothing.
const (
	reserveWithout = 50
	reserveFewest  = 200 // for all sets of machines together
	reserveClosest = 600 // where what was found moves far
)

// leastLooks is how many sets of machines are looked at without whole steps at least: all of five machines.
const leastLooks = 64

// leastPoolWork is how many cone programs a pool may solve at least: where Make is done at
// once, its count says little.
const leastPoolWork = 45

// mostPoolWork is how many it may solve at most: where Make worked long, it was on the
// proof.
const mostPoolWork = 2000

// poolGap is the relative gap at which a total counts as least.
const poolGap = optimize.Spare

// A poolSearch is one pool under way.
type poolSearch struct {
	*Pool
	ctx   context.Context
	base  *optimize.Solver // of Base's problem
	model *optimize.Model
	work  float64  // cone programs that Make took, within bounds
	use   float64  // share of the limits that the chosen plan may use
	sets  []uint32 // of machines whose least total was found
}

// A finding is what one search of a pool came to.
type finding struct {
	steps  []mip.Steps
	none   bool     // proven: nothing keeps what was asked
	solves int      // cone programs
	sets   []uint32 // of machines: the least total that moves no others is among steps
	// bound and first work out what is proven of the total in mm, and of the count of
	// machines or the worst share; NaN: nothing. nil: nothing was searched for that.
	bound, first func(context.Context) float64
}

// MakePool plans a train and answers the questions of a page from all plans found. Of the
// options Use and Strategy count as not given: the pool is the file's. asked is the chance
// for the row with a chance.
//
// Errors are those of Make.
func MakePool(ctx context.Context, t *train.Train, opt optimize.Options, asked float64) (*Pool, error) {
	return makePool(ctx, t, opt, asked, nil)
}

// makePool is MakePool with plans that are known already.
func makePool(ctx context.Context, t *train.Train, opt optimize.Options, asked float64, known []PooledPlan) (*Pool,
	error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Limit, opt.Use, opt.Strategy, opt.From = 0, 0, optimize.LeastTotal, nil
	brief := opt
	brief.Brief = true
	told := false
	if brief.First = nil; opt.First != nil {
		brief.First = func(p *optimize.Plan) {
			if known == nil || p.Kept <= p.Aim*(1+optimize.CheckTolerance) { // else a known one may do better
				told = !p.SoFar
				opt.First(p)
			}
		}
	}
	m, err := solved(ctx, t, brief)
	if brief.First = nil; err != nil {
		return nil, err
	}
	if start := startOf(m.Plan, known); start != nil {
		from := brief
		from.Start = start
		if m, err = solved(ctx, t, from); err != nil {
			return nil, err
		}
	}
	p := newPool(t, m.Plan, brief, asked)
	if m.Plan.Moves == nil {
		if p.bare = m; !opt.Brief {
			p = p.explained(ctx)
		}
	}
	if opt.First != nil && !told {
		opt.First(p.Base)
	}
	base := p.Base
	if base.Status != optimize.Planned {
		return p, nil
	}
	s := &poolSearch{Pool: p, ctx: ctx, use: math.Max(base.Aim, base.Kept)}
	s.work = float64(min(max(base.Solves, leastPoolWork), mostPoolWork))
	s.start(m)
	s.ask()
	s.rounds()
	for n := range known {
		s.add(ctx, s.model, stepsOf(s.model, known[n].Moves))
	}
	s.answer()
	return p, s.aside()
}

// newPool is a pool of no plans yet.
func newPool(t *train.Train, base *optimize.Plan, opt optimize.Options, asked float64) *Pool {
	return &Pool{Base: base, Asked: asked, options: opt, train: t, known: map[string]int{}, sample: &robust.Sample{}}
}

// explained is a pool without a plan that says what would help, which one that was made in brief leaves out: the search
// that found no plan is not made again.
func (p *Pool) explained(ctx context.Context) *Pool {
	if p.bare == nil || p.Base.Status != optimize.Impossible && !p.Base.FirstOrder {
		return p
	}
	m, plan := *p.bare, *p.Base
	m.Plan, m.Options.Brief = &plan, false
	infeasible.Relax(ctx, &m)
	plan.Cut = m.Cut(ctx)
	return newPool(p.train, &plan, p.options, p.Asked)
}

// start writes the problem of which a solver made the plan of Make, and puts that into the pool.
func (s *poolSearch) start(made *optimize.Solver) {
	if !s.Base.Begun() {
		s.Solves += 2
	}
	s.base = optimize.Again(s.ctx, made, s.options)
	s.model = s.base.Model
	if s.add(s.ctx, s.model, stepsOf(s.model, s.Base.Moves)) != 0 {
		panic("ways: a plan is not in its own pool")
	}
}

// stepsOf are the steps of some moves.
func stepsOf(k *optimize.Model, moves train.Moves) mip.Steps {
	out := make(mip.Steps, len(k.Groups))
	for v, g := range k.Groups {
		f := moves[g.Machine][g.Feet[0]]
		by := [...]float64{f.Up, f.Left, f.Axial}[g.Act]
		out[v] = int(math.Round(by / k.Problem.Vars[v].Step))
	}
	return out
}

// ask writes down the questions. Where the aim can't be kept the plan may use a little
// more of the limits than the lowest worst share.
func (s *poolSearch) ask() {
	nan := math.NaN()
	if s.missed() {
		s.use = math.Min(1, s.Base.Reached+AboveLowest)
	}
	row := func(kind QuestionKind, use float64) *Row {
		q := Question{Kind: kind, Use: use, Machine: -1}
		s.Rows = append(s.Rows, Row{Question: q, Plan: -1, least: nan, lowest: nan})
		return &s.Rows[len(s.Rows)-1]
	}
	least := row(AskLeast, s.use)
	if !s.missed() {
		least.least = s.Base.Bound
	}
	row(AskFewest, s.use)
	if math.Abs(s.Base.Aim-Margin) > optimize.CheckTolerance {
		row(AskMargin, Margin)
	}
	if s.Base.Train.ChanceKnown() {
		row(AskChance, 1).Chance = s.Asked
	}
	closest := row(AskClosest, 1)
	if s.missed() {
		closest.lowest = s.Base.Lowest
	}
	// With an option a machine that is held besides makes another list of options: no command prints that plan.
	if len(s.options.Hold) == 0 && len(s.options.Free) == 0 && s.options.Start == nil {
		if i := s.cheapest(); i >= 0 {
			row(AskWithout, s.use).Machine = i
		}
	}
}

// chanceStep is the step of chances that are looked for in place of the one that is asked for, as count in 1.
const chanceStep = 20

// askInReach asks for the highest round chance that a plan so far has, where none has the one that is asked for; false:
// the plan of the least total has it too, or it is too low.
func (s *poolSearch) askInReach() bool {
	at := slices.IndexFunc(s.Rows, func(r Row) bool { return r.Kind == AskChance })
	if at < 0 || s.best(&s.Rows[at].Question, math.Inf(1)) >= 0 {
		return false
	}
	r := s.Rows[at]
	r.Kind, r.None, r.bound, r.first = AskInReach, false, nil, nil
	likely := s.MostLikely()
	if likely < 0 {
		return false // ended before any chance was worked out
	}
	highest := &s.Plans[likely]
	for n := math.Ceil(s.Asked*chanceStep) - 1; n/chanceStep >= LeastChance; n-- {
		r.Chance = n / chanceStep
		if !r.Keeps(highest) {
			continue
		}
		least := s.best(&s.Rows[0].Question, math.Inf(1))
		if least >= 0 && r.Keeps(&s.Plans[least]) {
			return false
		}
		s.Rows = slices.Insert(s.Rows, at+1, r)
		return true
	}
	return false
}

// missed says whether the aim can't be kept.
func (s *poolSearch) missed() bool { return s.Base.Kept > s.Base.Aim*(1+optimize.CheckTolerance) }

// rounds searches for what the rows ask: first from the plan of Make, then for the total
// at a margin, without a machine and for the chance from all plans of the first round. In a long train a round takes as
// long as its longest search, and what one finds is seldom near what another asks for: there both are one.
func (s *poolSearch) rounds() {
	if s.long() {
		s.round(AskLeast, AskFewest, AskMargin, AskClosest, AskWithout)
	} else {
		s.round(AskLeast, AskFewest, AskClosest)
		s.round(AskMargin, AskWithout)
	}
	s.round(AskChance)
	if s.askInReach() {
		s.round(AskInReach)
	}
}

// round makes the searches of some kinds side by side, and puts what they found into the
// pool in the order of the rows.
func (s *poolSearch) round(kinds ...QuestionKind) {
	var rows []*Row
	for n := range s.Rows {
		if slices.Contains(kinds, s.Rows[n].Kind) {
			rows = append(rows, &s.Rows[n])
		}
	}
	starts, found := s.starts(), make([]finding, len(rows))
	_ = atOnce(len(rows), func(n int) error {
		found[n] = s.search(&rows[n].Question, starts)
		return nil
	})
	for n, f := range found {
		for _, steps := range f.steps {
			s.add(s.ctx, s.model, steps)
		}
		r := rows[n]
		r.None, r.bound, r.first = f.none, f.bound, f.first
		s.sets = append(s.sets, f.sets...)
		s.Solves += f.solves
	}
}

// search makes the search for one question.
func (s *poolSearch) search(q *Question, starts []mip.Steps) finding {
	switch q.Kind {
	case AskLeast:
		if s.missed() {
			return s.total(q, starts, partMargin)
		}
	case AskMargin:
		return s.total(q, starts, partMargin)
	case AskWithout:
		if !s.settled(q.Machine) {
			return s.total(q, starts, partWithout)
		}
	case AskFewest:
		return s.fewest(q, starts)
	case AskClosest:
		if !s.missed() {
			return s.closest(starts)
		}
	case AskChance, AskInReach:
		return s.likely(q, starts)
	}
	return finding{}
}

// solver is a fresh one with the variables and limits confined; nil: as they are.
func (s *poolSearch) solver(within func(*optimize.Model)) *optimize.Solver {
	return s.base.Beside(within)
}

// tries is a part of the work, in tries of breakouts.
func (s *poolSearch) tries(part float64) int { return int(part * s.work * bnb.TriesOfSolve) }

// programs is a part of the work, in cone programs.
func (s *poolSearch) programs(part float64) int { return max(1, int(part*s.work)) }
