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
	ctx, stop := opt.Limited(ctx)
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
	m := &Solver{Plan: p, Options: opt}
	least := m.begin(ctx)
	if least.Steps == nil {
		p.Cut = m.Cut(ctx)
		return p, nil
	}
	least, bound := m.follow(ctx, least)
	p.Status = Planned
	p.Least, p.Bound, p.Kept = least.Value, bound, least.Claim.Use
	if err := p.take(m.Model.Moves(m.refine(ctx, least)), p.Kept); err != nil {
		return p, err
	}
	if !opt.Brief {
		p.Probability = p.MonteCarlo(chanceDraws)
	}
	if !opt.Brief && opt.Strategy.Plain() {
		m.otherAims(ctx, least)
		p.ShadowPrices = m.shadowPrices(p.Kept)
	}
	p.Cut = m.Cut(ctx)
	return p, nil
}

// Limited is a context that ends when the time of the options is up.
func (o *Options) Limited(ctx context.Context) (context.Context, context.CancelFunc) {
	if o.Limit > 0 {
		return context.WithTimeout(ctx, o.Limit)
	}
	return ctx, func() {}
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

// begin writes the mixed-integer problem and finds the plan to start from, or takes
// both from a plan that has them.
func (m *Solver) begin(ctx context.Context) bnb.Result {
	shared := m.Options.Strategy != Closest && m.Options.Strategy != RaiseOnly
	if from := m.Options.From; shared && from != nil && from.begun != nil && from.Aim == m.Plan.Aim {
		b := from.begun
		m.Model, m.Linearization, m.OutOfWork = b.task, b.Linearization, b.ran
		m.Plan.Solves, m.Plan.begun = b.solves, b
		m.Options.Solves = m.Work()
		return b.least
	}
	m.Linearize()
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
	if m.Options.Strategy == Closest {
		m.Plan.Aim = 0
	} else if r := m.LeastTotal(ctx, m.Plan.Aim); r.Steps != nil {
		return r
	}
	return m.closest(ctx)
}

// WorthSolving is how many cone programs are worth solving for a number of unknowns:
// each takes longer in a longer train, so there are fewer of them. Beyond some
// sixteen machines each also raises the bound by less, so there are fewer with
// the square; the plan itself is found by a rolling horizon, in proportion to the
// machines.
func WorthSolving(unknowns int) int {
	const most, all, long = 20000, 960000, 64 // all: programs times unknowns
	if unknowns > long {
		return max(1, all*long/(unknowns*unknowns))
	}
	return min(most, all/max(1, unknowns))
}

// Work is how many cone programs one search may solve at most.
func (m *Solver) Work() int {
	if m.Options.Solves > 0 {
		return m.Options.Solves
	}
	return WorthSolving(len(m.Model.Problem.Vars))
}

func newPlan(t *train.Train, opt Options) *Plan {
	nan := math.NaN()
	file := t
	t, soft := SoftFootCorrected(t)
	found := t.Check(t.Stay())
	p := &Plan{
		File: file, Train: t, Soft: soft, Found: found, Aim: t.Aim.Use,
		Total: nan, Plain: nan, Least: nan, Bound: nan, Largest: nan, Reached: nan, Lowest: nan, Kept: nan,
		Unstated: unstated(t, &found), Strategy: opt.Strategy, First: nan, FirstBound: nan,
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

// A Solver is one planning under way.
type Solver struct {
	Plan    *Plan
	Options Options
	Model   *Model
	// Linearization is where the model's linear forms are tangent to true geometry; nil: where the
	// train stands.
	Linearization *Linearization
	curvedAt      *Model       // the model of which curved is known; nil: none
	curved        *mip.Problem // see truly
	within        func(*Model) // what the variables are confined to; nil: to what the feet allow
	OutOfWork     bool         // out of work before an end
	TooMany       bool         // too many things to try all sets of them
	// relieving is how many cone programs may still go into showing that relaxations work.
	relaxationWork int
}

// Linearize writes the mixed-integer problem, with what true geometry adds to the
// linear forms where the plan will about be: at the optimum without whole
// steps.
func (m *Solver) Linearize() {
	m.Model = m.ModelAt(nil)
	r := bnb.Relax(&m.Model.Problem, mip.Goal{Use: m.Plan.Aim})
	if r.X == nil {
		r = bnb.Relax(&m.Model.Problem, mip.Goal{LeastUse: true, MostUse: math.Inf(1), Cap: math.Inf(1)})
	}
	if r.X != nil {
		at := m.Model.movesOf(func(v int) float64 { return r.X[v] })
		m.Linearization = linearizedAt(m.Plan.Train, at)
		m.Model = m.ModelAt(m.Linearization)
	}
}

// ModelAt is the mixed-integer problem with linear forms that are tangent to true geometry somewhere;
// nil: where the train stands.
func (m *Solver) ModelAt(at *Linearization) *Model {
	k := Build(m.Plan.Train, at)
	if m.within != nil {
		m.within(k)
	}
	return k
}

// Find runs one search; a point counts only if the train's true geometry
// keeps every limit at that use.
func (m *Solver) Find(ctx context.Context, goal mip.Goal, opt bnb.Options) bnb.Result {
	use := goal.Use
	if goal.LeastUse {
		use = goal.MostUse
	}
	opt.Accept = m.accept(m.Model, use)
	opt.Adds = m.adds
	r := bnb.Find(ctx, &m.Model.Problem, goal, opt)
	m.Plan.Solves += r.Solves
	if r.Status == bnb.Impossible { // by linear forms, that is
		r = m.firm(ctx, r, opt.Start...)
	}
	return r
}

// accept says of a point whether the train's true geometry keeps every limit there.
func (m *Solver) accept(k *Model, use float64) func(mip.Steps) bool {
	t := k.Train
	return func(s mip.Steps) bool {
		moves := k.Moves(s)
		state := t.Check(moves)
		return len(breaks(t, moves, &state, use)) == 0
	}
}

// adds is what a point takes up of each limit, in shares, beyond what the
// problem's rows say.
func (m *Solver) adds(s mip.Steps) []float64 {
	there := m.ModelAt(linearizedAt(m.Plan.Train, m.Model.Moves(s)))
	here, out := bnb.Shares(&m.Model.Problem, s), bnb.Shares(&there.Problem, s)
	for i := range out {
		out[i] -= here[i]
	}
	return out
}

// LeastTotal looks for the smallest total at a use.
func (m *Solver) LeastTotal(ctx context.Context, use float64) bnb.Result {
	r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: m.Options.Gap, Solves: m.Options.Solves, Tell: m.Options.Tell})
	m.OutOfWork = m.OutOfWork || r.Status == bnb.Cut
	return r
}

// Proven is the bound of a search, for moves by true geometry, once its proof has been
// verified; NaN where it has none that holds.
func (m *Solver) Proven(ctx context.Context, r bnb.Result) float64 {
	r = m.firm(ctx, r)
	if !Verified(m.truly(m.Model), r.Claim, r.Proof) {
		return math.NaN()
	}
	return r.Bound
}

// Verified says whether a proof of what is claimed of a problem holds.
func Verified(p *mip.Problem, c certify.Claim, proof *certify.Proof) bool {
	return proof != nil && certify.Check(p, c, proof) == nil
}

// closest serves where the aim can't be kept: it looks for the lowest worst
// use, up to the limits themselves, and then for the smallest total at that
// use. Without one it says whether that is proven.
func (m *Solver) closest(ctx context.Context) bnb.Result {
	p := m.Plan
	gap, solves := nearLowest, min(m.Options.Solves, mostForLowest)
	if p.Strategy == Closest {
		gap, solves = m.CloseEnough()
	}
	low := m.Find(ctx, mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}, bnb.Options{Gap: gap, Solves: solves, Tell: m.Options.Tell})
	p.Lowest = m.Proven(ctx, low)
	if low.Steps == nil && !math.IsInf(p.Lowest, 1) {
		r := m.atAll(ctx)
		if r.Steps != nil {
			if p.Strategy == Closest {
				state := p.Train.Check(m.Model.Moves(r.Steps))
				p.First, p.FirstBound, p.Aim, p.Lowest = state.Worst(), p.Lowest, 1, math.NaN()
			}
			return r
		}
		if math.IsInf(m.Proven(ctx, r), 1) {
			low, p.Lowest = r, math.Inf(1)
		}
	}
	switch {
	case low.Steps != nil:
		goal := mip.Goal{Use: math.Min(1, low.Value*(1+Spare))}
		// By true geometry the point may take up more than by the linear forms: of the
		// lowest use there is that can be more than what is spared.
		state := p.Train.Check(m.Model.Moves(low.Steps))
		truly := math.Min(1, state.Worst()*(1+Spare))
		if p.Strategy == Closest && state.Worst() > goal.Use {
			goal.Use = truly
		}
		if goal.Use <= p.Aim {
			// The aim can be kept after all: the search for the total had run out.
			goal.Use, p.Lowest = p.Aim, math.NaN()
		}
		opt := bnb.Options{Gap: m.Options.Gap, Solves: solves, Start: []mip.Steps{low.Steps}, Tell: m.Options.Tell}
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
		p.Conflict = m.conflict(ctx)
		m.OutOfWork = false
		if m.Options.Brief {
			return low
		}
		p.Relaxations = m.relaxations(ctx)
		p.Hopeless = len(p.Relaxations) == 0 && ctx.Err() == nil && m.hopeless(ctx)
	default:
		p.Status = Undecided
		m.OutOfWork = low.Status == bnb.Cut
	}
	return low
}

// atAll looks for the smallest total at all of the limits, by linear forms that are tangent
// to true geometry where that is without whole steps: where hardly any moves keep the
// limits, forms that are tangent elsewhere may miss them.
func (m *Solver) atAll(ctx context.Context) bnb.Result {
	aim := m.Plan.Aim
	m.Plan.Aim = 1
	m.Linearize()
	m.Plan.Aim = aim
	return m.LeastTotal(ctx, 1)
}

// mostForLowest is how many cone programs go into the lowest worst use at most:
// what it is not proven to is said, and the total still has to be found.
const mostForLowest = 5000

// CloseEnough is the relative gap at which a worst use counts as lowest where the
// lowest is asked for, and the cone programs that are worth it: a hundredth of
// a limit is less than any reading shows, and much of a low use is whole steps,
// where bounds are weak.
func (m *Solver) CloseEnough() (gap float64, solves int) {
	const share, most = 0.01, 600
	r := bnb.Relax(&m.Model.Problem, mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)})
	return math.Min(0.2, math.Max(nearLowest, share/math.Max(r.Bound, 1e-6))), min(most, m.Options.Solves)
}

// nearLowest is the relative gap at which a worst use counts as lowest.
const nearLowest = 0.005

// otherAims works out what other shares of the limits would cost.
func (m *Solver) otherAims(ctx context.Context, least bnb.Result) {
	const solves = 24
	for _, use := range [...]float64{1, 0.9, 0.8, 0.7, 0.5} {
		if use == m.Plan.Aim {
			continue
		}
		r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: 2 * Spare, Solves: solves, Start: []mip.Steps{least.Steps}})
		m.Plan.Front = append(m.Plan.Front, FrontPoint{Use: use, Total: r.Value, Bound: m.Proven(ctx, r)})
	}
}

// Cut says why the search ended early.
func (m *Solver) Cut(ctx context.Context) string {
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return "the clock cut the search, so another run may end with another plan"
	case ctx.Err() != nil:
		return "the search was interrupted"
	case m.TooMany:
		return "there are too many feet or machines to try every set of them"
	case m.OutOfWork:
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
