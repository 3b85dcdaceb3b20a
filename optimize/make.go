package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// Make plans the train's moves for the smallest total, or, by the strategy Closest, for the
// closest couplings. The strategies that touch least, and what is found out about a plan
// beside its moves, are package ways'.
//
//	train ── Build ──▶ mixed-integer problem ── search ──▶ whole steps ──▶ moves
//	  │                     ▲                                          │
//	  │              what true geometry adds                           │
//	  └──────────────── Check (true geometry) ◀────────────────────────┘
//
// An error means a fault of this program (a plan that failed its own check), or
// options that name a machine that is not there.
func Make(ctx context.Context, t *train.Train, opt Options) (*Plan, error) {
	if !opt.Strategy.Plain() && opt.Strategy != Closest {
		return nil, fmt.Errorf("strategy %s is not of this package", opt.Strategy)
	}
	ctx, stop := opt.Limited(ctx)
	defer stop()
	m, err := Begin(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	if m.Least.Steps != nil {
		err = m.Finish(ctx, m.Least, m.Proven(ctx, m.Least))
	}
	if m.Plan.Status != Within {
		m.Plan.Cut = m.Cut(ctx)
	}
	return m.Plan, err
}

// Begin starts a plan: the mixed-integer problem is written and the smallest total is found
// (Solver.Least). Where nothing needs to move, the plan is ready with it; where nothing was
// found, its status says whether that is proven.
func Begin(ctx context.Context, t *train.Train, opt Options) (*Solver, error) {
	t, err := Given(t, opt)
	if err != nil {
		return nil, err
	}
	m := NewSolver(t, opt)
	p := m.Plan
	if stay := p.Train.Stay(); opt.Strategy != Closest && len(Breaks(p.Train, stay, &p.Found, p.within(opt))) == 0 {
		p.Status = Within
		return m, p.Take(stay, p.within(opt))
	}
	m.soFar = opt.newSoFar()
	m.Least = m.begin(ctx)
	if p.Status == Undecided {
		p.FirstOrder = m.none
		p.Nearest = m.nearest(ctx)
	}
	return m, nil
}

// nearest are the moves that keep every limit but those of couplings, and go past these by least, as far as a little
// work finds them; nil where none are found.
func (m *Solver) nearest(ctx context.Context) *Plan {
	const solves = 1000
	m.Seeking = true
	defer func() { m.Seeking = false }()
	r := m.Find(ctx, anyUse(),
		bnb.Options{Gap: NearLowest, Solves: min(solves, m.Options.Solves), Tell: m.Options.Tell})
	if r.Steps == nil {
		return nil
	}
	p := Try(m.Plan.File, m.Model.Moves(r.Steps))
	p.Aim = m.Plan.Aim
	return p
}

// Finish makes the plan from what a search found, with a proven bound on its total in mm.
func (m *Solver) Finish(ctx context.Context, found bnb.Result, bound float64) error {
	return m.Conclude(ctx, m.Choose(ctx, found), bound)
}

// Choose takes, of the plans that cost hardly more than what a search found, the one that moves the fewest machines
// and leaves the couplings closest, and beside that one the flattest.
func (m *Solver) Choose(ctx context.Context, found bnb.Result) bnb.Result {
	m.Plan.Kept = found.Claim.Use
	found.Steps = m.flatter(m.refine(ctx, found))
	return found
}

// Early is the plan of what was chosen before anything is proven of it.
func (m *Solver) Early(chosen bnb.Result) (*Plan, error) {
	m.soFar = nil
	plan, early := *m.Plan, *m
	early.Plan = &plan
	return &plan, early.Take(chosen, math.NaN(), plan.Kept)
}

// Conclude makes the plan of what was chosen, with a proven bound on its total in mm.
func (m *Solver) Conclude(ctx context.Context, found bnb.Result, bound float64) error {
	err := m.Take(found, bound, m.Plan.Kept)
	if found.Bound > bound && !found.Goal.LeastUse {
		m.Plan.FirstOrderBound = m.firstOrder(ctx, found, bound)
	}
	return err
}

// Take makes the plan of a search's moves as they are, once they are checked to keep every
// limit, those of couplings to a share. The bound on the total is in mm.
func (m *Solver) Take(found bnb.Result, bound, use float64) error {
	p := m.Plan
	p.Status, p.Least, p.Bound, p.FirstOrderBound = Planned, found.Value, bound, bound
	if err := p.Take(m.Model.Moves(found.Steps), use); err != nil {
		return err
	}
	p.Least = math.Min(p.Least, p.Total) // closer couplings may have come with a smaller total
	return nil
}

// A beginning is where planning has come to once the smallest total is found,
// before anything is made of it. Nothing changes it.
type beginning struct {
	task          *Model
	Linearization *Linearization
	least         bnb.Result
	ran           bool
	solves        int
}

// Begun says whether the plan has where its planning began for others to start from.
func (p *Plan) Begun() bool { return p.begun != nil }

// BeginAs lets others start from where another plan began.
func (p *Plan) BeginAs(other *Plan) { p.begun = other.begun }

// windowsOfLong is how many programs windows of a very long train may take unless some work is asked for: with more
// they hardly found anything better in chains of 20 to 300 machines.
const windowsOfLong = 2000

// begin writes the mixed-integer problem and finds the plan to start from, or takes
// both from a plan that has them.
func (m *Solver) begin(ctx context.Context) bnb.Result {
	shared := m.Options.Strategy != Closest && m.Options.Strategy != RaiseOnly
	if from := m.Options.From; shared && from != nil && from.begun != nil && from.ChanceConstraint == nil &&
		from.Aim == m.Plan.Aim {
		b := from.begun
		m.Model, m.Linearization, m.OutOfWork = b.task, b.Linearization, b.ran
		m.Plan.Solves, m.Plan.begun = b.solves, b
		m.Options.Solves = m.Work()
		return b.least
	}
	m.Linearize(ctx)
	if !m.large() {
		m.lookAhead()
	}
	if m.Options.Solves == 0 {
		m.windows = m.fewer(windowsOfLong)
	}
	m.Options.Solves = m.Work()
	least := m.start(ctx)
	if shared && least.Steps != nil && least.Claim.Use == m.Plan.Aim {
		m.Plan.begun = &beginning{m.Model, m.Linearization, least, m.OutOfWork, m.Plan.Solves}
	}
	return least
}

// start is the plan that every strategy starts from: the smallest total within
// the aim, or as near to it as can be; for Closest as near to what is wanted as
// can be.
func (m *Solver) start(ctx context.Context) bnb.Result {
	// By linear forms, at all of the limits.
	none := m.beyond && bnb.Relax(ctx, &m.Model.Problem, mip.Goal{Use: 1}).Impossible()
	var rough []mip.Steps
	if !none {
		rough = m.rough(ctx)
	}
	if m.Options.Strategy == Closest {
		m.Plan.Aim = 0
	} else if none {
		// What can't be had at all of the limits is not looked for within the aim.
	} else if r := m.LeastTotal(ctx, m.Plan.Aim, rough...); r.Steps != nil {
		return r
	}
	r := m.closest(ctx, none, rough)
	if known := m.known(1); r.Steps == nil && known != nil {
		m.OutOfWork, m.Plan.Status = true, Unsolved
		return bnb.Result{Status: bnb.Cut, Steps: known[0], Value: bnb.Cost(&m.Model.Problem, known[0]), Bound: math.NaN(),
			Goal: mip.Goal{Use: 1}, Claim: certify.Claim{Use: 1}}
	}
	return r
}

func newPlan(t *train.Train, opt Options) *Plan {
	nan := math.NaN()
	file := t
	t, soft := SoftFootCorrected(t)
	found := t.Check(t.Stay())
	p := &Plan{Result: Result{
		File: file, Train: t, Soft: soft, Found: found, Aim: t.Aim.Use,
		Total: nan, Plain: nan, Least: nan, Bound: nan, FirstOrderBound: nan,
		Largest: nan, Reached: nan, Lowest: nan, Kept: nan,
		Unstated: unstated(t, &found), Strategy: opt.Strategy, First: nan, FirstBound: nan,
	}}
	if opt.Use > 0 {
		p.Aim = opt.Use
	}
	return p
}

// within is the share of the limits at which nothing needs to move: all of it,
// unless a share was asked for.
func (p *Plan) within(opt Options) float64 {
	if opt.Use > 0 {
		return p.Aim
	}
	return 1
}

// closest serves where the aim can't be kept: it looks for the lowest worst
// use, up to the limits themselves, and then for the smallest total at that
// use. Without one it says whether that is proven. The search starts from some points. Where linear forms have none
// even at all of the limits, that is what is to be proven.
func (m *Solver) closest(ctx context.Context, none bool, start []mip.Steps) bnb.Result {
	p := m.Plan
	gap, solves := NearLowest, min(m.Options.Solves, mostForLowest)
	if p.Strategy == Closest {
		gap, solves = m.CloseEnough(ctx)
	}
	lowest := LowestUse()
	opt := bnb.Options{Gap: gap, Solves: solves, Enough: p.Aim, Start: slices.Concat(m.known(1), start),
		Tell: m.Options.Tell}
	low := bnb.Result{Status: bnb.Cut, Value: math.NaN()}
	if !none {
		low = m.Find(ctx, lowest, opt)
	}
	if low.Value <= p.Aim && !m.accept(m.Model, p.Aim)(low.Steps) { // by true geometry it uses more
		opt.Enough, opt.Start = 0, []mip.Steps{low.Steps}
		low = m.Find(ctx, lowest, opt)
	}
	p.Lowest = m.Proven(ctx, low)
	if low.Steps == nil && !math.IsInf(p.Lowest, 1) && ctx.Err() == nil {
		r := m.atAll(ctx)
		if r.Steps != nil {
			if p.Strategy == Closest {
				state := p.Train.Check(m.Model.Moves(r.Steps))
				p.First, p.FirstBound, p.Aim, p.Lowest = state.Worst(), p.Lowest, 1, math.NaN()
			}
			return r
		}
		if m.provenNone(ctx, r) {
			low, p.Lowest = r, math.Inf(1)
		}
	}
	switch {
	case low.Steps != nil:
		goal := mip.Goal{Use: math.Min(1, low.Value*(1+Spare))}
		// By true geometry the point may use more than by the linear forms: of the
		// lowest use there is that can be more than what is spared.
		state := p.Train.Check(m.Model.Moves(low.Steps))
		truly := math.Min(1, state.Worst()*(1+Spare))
		if p.Strategy == Closest && state.Worst() > goal.Use {
			goal.Use = truly
		}
		if goal.Use <= p.Aim || low.Value <= p.Aim && state.Worst() <= p.Aim {
			// The aim can be kept after all: the search for the total had run out.
			goal.Use, p.Lowest = p.Aim, math.NaN()
		}
		opt = bnb.Options{Gap: m.Options.Gap, Solves: solves, Windows: m.windows, Start: []mip.Steps{low.Steps},
			Tell: m.Options.Tell}
		r := m.Find(ctx, goal, opt)
		if r.Steps == nil && truly > goal.Use {
			goal.Use = truly
			r = m.Find(ctx, goal, opt)
		}
		if r.Steps == nil && ctx.Err() == nil {
			r = m.atAll(ctx)
			goal.Use = 1
		}
		m.OutOfWork = low.Status == bnb.Cut || r.Status == bnb.Cut
		if p.Strategy == Closest {
			p.First, p.FirstBound, p.Aim, p.Lowest = low.Value, p.Lowest, goal.Use, math.NaN()
		}
		if r.Steps == nil {
			p.Status = Undecided
		}
		return r
	case math.IsInf(p.Lowest, 1):
		p.Status = Impossible
		m.OutOfWork = false
	default:
		p.Status = Undecided
		m.OutOfWork = low.Status == bnb.Cut
		if none {
			p.Lowest = m.LeastProven(ctx, m.Model, lowest)
		}
	}
	return low
}

// atAll looks for the smallest total at all of the limits, by linear forms that are tangent
// to true geometry where that is without whole steps: where hardly any moves keep the
// limits, forms that are tangent elsewhere may miss them. Where it is not proven that there are none, they are looked
// for with forms that are tangent where the couplings are closest too, so that what is found does not hang on the aim.
func (m *Solver) atAll(ctx context.Context) bnb.Result {
	m.linearizeFor(ctx, mip.Goal{Use: 1}, anyUse())
	r := m.LeastTotal(ctx, 1)
	if r.Steps != nil || ctx.Err() != nil || m.provenNone(ctx, r) {
		return r
	}
	model, at, none := m.Model, m.Linearization, m.none
	m.linearizeFor(ctx, anyUse())
	if near := m.atClosest(ctx); near.Steps != nil {
		return near
	}
	m.Model, m.Linearization, m.none = model, at, none
	return r
}

// atClosest looks for any plan at all of the limits by way of the lowest worst use, and from it for the smallest total;
// that there is none is not proven.
func (m *Solver) atClosest(ctx context.Context) bnb.Result {
	const most = 1000 // programs
	m.Seeking = true
	defer func() { m.Seeking = false }()
	solves := min(m.Options.Solves, most)
	low := m.Find(ctx, LowestUse(),
		bnb.Options{Gap: NearLowest, Solves: solves, Start: m.known(1), Tell: m.Options.Tell})
	if low.Steps == nil {
		return low
	}
	return m.Find(ctx, mip.Goal{Use: 1},
		bnb.Options{Gap: m.Options.Gap, Solves: solves, Start: []mip.Steps{low.Steps}, Tell: m.Options.Tell})
}

// mostForLowest is how many cone programs go into the lowest worst use at most:
// what it is not proven to is said, and the total still has to be found.
const mostForLowest = 2000

// Take puts the moves into the plan, after checking that they keep every limit, those
// of couplings to a share.
func (p *Plan) Take(moves train.Moves, use float64) error {
	p.Moves, p.Planned = moves, p.Train.Check(moves)
	if b := Breaks(p.Train, moves, &p.Planned, use); len(b) > 0 {
		return fmt.Errorf("the plan failed its own check: %s. This is a fault of the program, not of the train file: "+
			"please report it with the train file", b[0])
	}
	if name := p.unmade(); name != "" {
		return fmt.Errorf("the plan failed its own check: no pack of %s can be made from the stock. This is a fault of "+
			"the program, not of the train file: please report it with the train file", name)
	}
	p.Reached = p.Planned.Worst()
	p.Measure()
	p.findActive()
	p.packs()
	return nil
}
