package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// Options say how to plan. Zero values mean the defaults.
type Options struct {
	Use float64 // share of the coupling limits to keep; 0: the train file's aim
	Gap float64 // relative gap at which a total counts as least (default 0.001)
	// TradeGap is the relative gap at which a point of a trade-off counts as found
	// (default 0.01).
	ParetoGap float64
	Solves    int  // most cone programs solved in one search; 0: by the size of the train
	Widen     bool // look for wider coupling limits as a relaxation too
	// Strategy is what to make least; "": the total.
	Strategy Strategy
	// Hold and Free name machines that may not be moved, and held ones that may,
	// whatever the train file says; Hold wins.
	Hold, Free []string
	// Brief leaves out prices, worth and relaxations, for those who only want to know
	// whether there is a plan: they take longer than all else.
	Brief bool
	// From is a plan of the same train with the same options but for Strategy and
	// Brief: its first search is not done again. It changes nothing else. nil: none.
	From *Plan
	Tell func(bnb.Progress) // called as the search goes; nil: not
	// Limit is how long the search may take; 0: as long as its work takes. A plan
	// that it cut may be another one on another machine; Plan.Cut then says so.
	Limit time.Duration
}

// Make plans the train's moves.
//
//	train ── build ──▶ mixed-integer problem ── search ──▶ whole steps ──▶ moves
//	  │                     ▲                                          │
//	  │              what true geometry adds                           │
//	  └──────────────── Check (true geometry) ◀────────────────────────┘
//
// An error means a fault of this program (a plan that failed its own check), or
// options that name a machine that is not there.
func Make(ctx context.Context, t *train.Train, opt Options) (*Plan, error) {
	ctx, stop := opt.limited(ctx)
	defer stop()
	t, err := opt.given(t)
	if err != nil {
		return nil, err
	}
	p := newPlan(t, opt)
	if stay := p.Train.Stay(); opt.Strategy != Closest && len(breaks(p.Train, stay, &p.Found, p.within(opt))) == 0 {
		p.Status = Within
		err := p.take(stay, p.within(opt))
		if !opt.Brief {
			p.Probability = p.MonteCarlo(chanceDraws)
		}
		return p, err
	}
	m := &maker{plan: p, opt: opt}
	least := m.begin(ctx)
	if least.Steps == nil {
		p.Cut = m.cut(ctx)
		return p, nil
	}
	least, bound := m.follow(ctx, least)
	p.Status = Planned
	p.Least, p.Bound, p.Kept = least.Value, bound, least.Claim.Use
	if err := p.take(m.task.set(m.refine(ctx, least)), p.Kept); err != nil {
		return p, err
	}
	if !opt.Brief {
		p.Probability = p.MonteCarlo(chanceDraws)
	}
	if !opt.Brief && opt.Strategy.plain() {
		m.otherAims(ctx, least)
		p.ShadowPrices = m.shadowPrices(p.Kept)
	}
	p.Cut = m.cut(ctx)
	return p, nil
}

// limited is a context that ends when the time of the options is up.
func (o *Options) limited(ctx context.Context) (context.Context, context.CancelFunc) {
	if o.Limit > 0 {
		return context.WithTimeout(ctx, o.Limit)
	}
	return ctx, func() {}
}

// A beginning is where planning has come to once the smallest total is found,
// before anything is made of it. Nothing changes it.
type beginning struct {
	task          *task
	linearization *linearization
	least         bnb.Result
	ran           bool
	solves        int
}

// begin writes the mixed-integer problem and finds the plan to start from, or takes
// both from a plan that has them.
func (m *maker) begin(ctx context.Context) bnb.Result {
	shared := m.opt.Strategy != Closest && m.opt.Strategy != RaiseOnly
	if from := m.opt.From; shared && from != nil && from.begun != nil && from.Aim == m.plan.Aim {
		b := from.begun
		m.task, m.linearization, m.ran = b.task, b.linearization, b.ran
		m.plan.Solves, m.plan.begun = b.solves, b
		m.opt.Solves = m.work()
		return b.least
	}
	m.linearise()
	m.opt.Solves = m.work()
	least := m.start(ctx)
	if shared && least.Steps != nil && least.Claim.Use == m.plan.Aim {
		m.plan.begun = &beginning{m.task, m.linearization, least, m.ran, m.plan.Solves}
	}
	return least
}

// start is the plan that every strategy starts from: the smallest total within
// the aim, or as near to it as can be; for Closest as near to what is wanted as
// can be.
func (m *maker) start(ctx context.Context) bnb.Result {
	if m.opt.Strategy == Closest {
		m.plan.Aim = 0
	} else if r := m.leastTotal(ctx, m.plan.Aim); r.Steps != nil {
		return r
	}
	return m.closest(ctx)
}

// enough is how many cone programs are worth solving for a number of unknowns:
// each takes longer in a longer train, so there are fewer of them. Beyond some
// sixteen machines each also raises the bound by less, so there are fewer with
// the square; the plan itself is found by a rolling horizon, in proportion to the
// machines.
func enough(unknowns int) int {
	const most, all, long = 20000, 960000, 64 // all: programs times unknowns
	if unknowns > long {
		return max(1, all*long/(unknowns*unknowns))
	}
	return min(most, all/max(1, unknowns))
}

// work is how many cone programs one search may solve at most.
func (m *maker) work() int {
	if m.opt.Solves > 0 {
		return m.opt.Solves
	}
	return enough(len(m.task.problem.Vars))
}

func newPlan(t *train.Train, opt Options) *Plan {
	nan := math.NaN()
	file := t
	t, soft := softFootCorrected(t)
	p := &Plan{
		file: file, Train: t, Soft: soft, Found: t.Check(t.Stay()), Aim: t.Aim.Use,
		Total: nan, Plain: nan, Least: nan, Bound: nan, Largest: nan, Reached: nan, Lowest: nan, Kept: nan,
		Unstated: unstated(t), Strategy: opt.Strategy, First: nan, FirstBound: nan,
	}
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

// A maker is one planning under way.
type maker struct {
	plan *Plan
	opt  Options
	task *task
	// touching is where task's linear forms are tangent to true geometry; nil: where the
	// train stands.
	linearization *linearization
	within        func(*task) // what the variables are confined to; nil: to what the feet allow
	ran           bool        // out of work before an end
	many          bool        // too many things to try all sets of them
	// relieving is how many cone programs may still go into showing that relaxations work.
	relaxationWork int
}

// linearise writes the mixed-integer problem, with what true geometry adds to the
// linear forms where the plan will about be: at the optimum without whole
// steps.
func (m *maker) linearise() {
	m.task = m.model(nil)
	r := bnb.Relax(&m.task.problem, mip.Goal{Use: m.plan.Aim})
	if r.X == nil {
		r = bnb.Relax(&m.task.problem, mip.Goal{LeastUse: true, MostUse: math.Inf(1), Cap: math.Inf(1)})
	}
	if r.X != nil {
		at := m.task.moves(func(v int) float64 { return r.X[v] })
		m.linearization = linearizedAt(m.plan.Train, at)
		m.task = m.model(m.linearization)
	}
}

// model is the mixed-integer problem with linear forms that are tangent to true geometry somewhere;
// nil: where the train stands.
func (m *maker) model(at *linearization) *task {
	k := build(m.plan.Train, at)
	if m.within != nil {
		m.within(k)
	}
	return k
}

// find runs one search; a point counts only if the train's true geometry
// keeps every limit at that use.
func (m *maker) find(ctx context.Context, goal mip.Goal, opt bnb.Options) bnb.Result {
	use := goal.Use
	if goal.LeastUse {
		use = goal.MostUse
	}
	t := m.plan.Train
	opt.Accept = func(s mip.Steps) bool {
		moves := m.task.set(s)
		state := t.Check(moves)
		return len(breaks(t, moves, &state, use)) == 0
	}
	opt.Adds = m.adds
	r := bnb.Find(ctx, &m.task.problem, goal, opt)
	m.plan.Solves += r.Solves
	return r
}

// adds is what a point takes up of each limit, in shares, beyond what the
// problem's rows say.
func (m *maker) adds(s mip.Steps) []float64 {
	there := m.model(linearizedAt(m.plan.Train, m.task.set(s)))
	here, out := bnb.Shares(&m.task.problem, s), bnb.Shares(&there.problem, s)
	for i := range out {
		out[i] -= here[i]
	}
	return out
}

// leastTotal looks for the smallest total at a use.
func (m *maker) leastTotal(ctx context.Context, use float64) bnb.Result {
	r := m.find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: m.opt.Gap, Solves: m.opt.Solves, Tell: m.opt.Tell})
	m.ran = m.ran || r.Status == bnb.Cut
	return r
}

// proven is the bound of a search, once its proof has been verified; NaN where
// it has none that holds. That there is no plan may not lean on points that the
// check by true geometry turned down: what turned them down may be of second
// order.
func (m *maker) proven(r bnb.Result) float64 {
	if r.Status == bnb.Impossible {
		r.Claim.Refuses = nil
	}
	if !verified(&m.task.problem, r.Claim, r.Proof) {
		return math.NaN()
	}
	return r.Bound
}

// verified says whether a proof of what is claimed of a problem holds.
func verified(p *mip.Problem, c certify.Claim, proof *certify.Proof) bool {
	return proof != nil && certify.Check(p, c, proof) == nil
}

// closest serves where the aim can't be kept: it looks for the lowest worst
// use, up to the limits themselves, and then for the smallest total at that
// use. Without one it says whether that is proven.
func (m *maker) closest(ctx context.Context) bnb.Result {
	p := m.plan
	gap, solves := nearLowest, min(m.opt.Solves, mostForLowest)
	if p.Strategy == Closest {
		gap, solves = m.closeEnough()
	}
	low := m.find(ctx, mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}, bnb.Options{Gap: gap, Solves: solves, Tell: m.opt.Tell})
	p.Lowest = m.proven(low)
	switch {
	case low.Steps != nil:
		goal := mip.Goal{Use: math.Min(1, low.Value*(1+Spare))}
		// By true geometry the point may take up more than by the linear forms: of the
		// lowest use there is that can be more than what is spared.
		if state := p.Train.Check(m.task.set(low.Steps)); p.Strategy == Closest && state.Worst() > goal.Use {
			goal.Use = math.Min(1, state.Worst()*(1+Spare))
		}
		if goal.Use <= p.Aim {
			// The aim can be kept after all: the search for the total had run out.
			goal.Use, p.Lowest = p.Aim, math.NaN()
		}
		r := m.find(ctx, goal, bnb.Options{Gap: m.opt.Gap, Solves: solves, Start: []mip.Steps{low.Steps}, Tell: m.opt.Tell})
		m.ran = low.Status == bnb.Cut || r.Status == bnb.Cut
		if p.Strategy == Closest {
			p.First, p.FirstBound, p.Aim, p.Lowest = low.Value, p.Lowest, goal.Use, math.NaN()
		}
		if r.Steps == nil {
			p.Status = Undecided
		}
		return r
	case math.IsInf(p.Lowest, 1):
		p.Status = Impossible
		p.Conflict = m.conflict(ctx)
		m.ran = false
		if m.opt.Brief {
			return low
		}
		p.Relaxations = m.relaxations(ctx)
		p.Hopeless = len(p.Relaxations) == 0 && ctx.Err() == nil && m.hopeless()
	default:
		p.Status = Undecided
		m.ran = low.Status == bnb.Cut
	}
	return low
}

// mostForLowest is how many cone programs go into the lowest worst use at most:
// what it is not proven to is said, and the total still has to be found.
const mostForLowest = 5000

// closeEnough is the relative gap at which a worst use counts as lowest where the
// lowest is asked for, and the cone programs that are worth it: a hundredth of
// a limit is less than any reading shows, and much of a low use is whole steps,
// where bounds are weak.
func (m *maker) closeEnough() (gap float64, solves int) {
	const share, most = 0.01, 600
	r := bnb.Relax(&m.task.problem, mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)})
	return math.Min(0.2, math.Max(nearLowest, share/math.Max(r.Bound, 1e-6))), min(most, m.opt.Solves)
}

// nearLowest is the relative gap at which a worst use counts as lowest.
const nearLowest = 0.005

// otherAims works out what other shares of the limits would cost.
func (m *maker) otherAims(ctx context.Context, least bnb.Result) {
	const solves = 24
	for _, use := range [...]float64{1, 0.9, 0.8, 0.7, 0.5} {
		if use == m.plan.Aim {
			continue
		}
		r := m.find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: 2 * Spare, Solves: solves, Start: []mip.Steps{least.Steps}})
		m.plan.Front = append(m.plan.Front, FrontPoint{Use: use, Total: r.Value, Bound: m.proven(r)})
	}
}

// cut says why the search ended early.
func (m *maker) cut(ctx context.Context) string {
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return "the clock cut the search, so another run may end with another plan"
	case ctx.Err() != nil:
		return "the search was interrupted"
	case m.many:
		return "there are too many feet or machines to try every set of them"
	case m.ran:
		return "the search reached its bound on work"
	}
	return ""
}

// take puts the moves into the plan, after checking that they keep every limit, those
// of couplings to a share.
func (p *Plan) take(moves train.Moves, use float64) error {
	p.Moves, p.Planned = moves, p.Train.Check(moves)
	if b := breaks(p.Train, moves, &p.Planned, use); len(b) > 0 {
		return fmt.Errorf("the plan failed its own check: %s. This is a fault of the program, not of the train file: please report it with the train file", b[0])
	}
	if name := p.unmade(); name != "" {
		return fmt.Errorf("the plan failed its own check: no pack of %s can be made from the stock. This is a fault of the program, not of the train file: please report it with the train file", name)
	}
	p.Reached = p.Planned.Worst()
	p.measure()
	p.findActive()
	p.packs()
	return nil
}
