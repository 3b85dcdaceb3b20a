package optimize

import (
	"context"
	"errors"
	"math"
	"slices"
	"sync/atomic"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// A Solver is one planning under way.
type Solver struct {
	Plan    *Plan
	Options Options
	Model   *Model
	// Linearization is where the model's linear forms are tangent to true geometry; nil: where the
	// train stands.
	Linearization *Linearization
	Least         bnb.Result   // the smallest total that Begin found; no steps: none, or nothing needs to move
	curvedAt      *Model       // the model of which curved is known; nil: none
	curved        *mip.Problem // see truly
	curvedOf      []int        // limits that it has; nil: all
	ahead         *ahead       // curved is worked out beside the search; nil: it is not
	within        func(*Model) // what the variables are confined to; nil: to what the feet allow
	Seeking       bool         // only plans are looked for: that there is none need not hold of true geometry
	beyond        bool         // where the train stands, linear forms have nothing of the first goal that they are for
	none          bool         // by linear forms there is nothing of what the last search was for
	windows       int          // programs that windows of a very long train may take; 0: a part of all
	OutOfWork     bool         // out of work before an end
	timeOut       bool         // the clock ended a search
	soFar         *soFar       // tells of the best plan so far; nil: nobody is to be told
	TooMany       bool         // too many things to try all sets of them
}

// NewSolver is the planning of a train as it stands, whatever Hold, Free and Strategy say.
func NewSolver(t *train.Train, opt Options) *Solver {
	return &Solver{Plan: newPlan(t, opt), Options: opt}
}

// Again is a solver of the problem that a solver's plan was made of, with the plan's options.
func Again(ctx context.Context, made *Solver, opt Options) *Solver {
	m := &Solver{Plan: made.Plan, Options: opt}
	if b := made.Plan.begun; b != nil {
		m.Model, m.Linearization = b.task, b.Linearization
	} else {
		anew := NewSolver(made.Plan.File, opt)
		anew.Linearize(ctx)
		m.Model, m.Linearization = anew.Model, anew.Linearization
	}
	switch {
	case made.curvedAt == m.Model && made.curvedOf == nil:
		m.curvedAt, m.curved = m.Model, made.curved
	case !m.large(): // else each search has its own part of it
		m.curvedAt, m.curved = m.Model, m.Model.curved(nil)
	}
	return m
}

// Beside is a solver of the same problem that counts its own work, with the variables
// confined further; nil: they are not. Several may run at once.
func (m *Solver) Beside(within func(*Model)) *Solver {
	plan := *m.Plan
	plan.Solves = 0
	out := *m
	out.Plan, out.within, out.soFar = &plan, within, nil
	if within != nil {
		out.Model = out.ModelAt(m.Linearization)
	}
	return &out
}

// Anew is Beside with linear forms that are written where the plan at a share of the limits will then about be.
func (m *Solver) Anew(ctx context.Context, use float64, within func(*Model)) *Solver {
	out := m.Beside(nil)
	out.within = within
	out.linearizeFor(ctx, mip.Goal{Use: use}, anyUse())
	return out
}

// Work is how many cone programs one search may solve at most.
func (m *Solver) Work() int {
	if m.Options.Solves > 0 {
		return m.Options.Solves
	}
	return m.fewer(WorthSolving(len(m.Model.Problem.Vars)))
}

// fewer is how many programs take as long with the train's conditions as some do with few.
func (m *Solver) fewer(programs int) int {
	if m.large() {
		return max(1, programs*fewConditions/len(m.Plan.Train.Conditions))
	}
	return programs
}

// Linearize writes the mixed-integer problem, with what true geometry adds to the
// linear forms where the plan will about be: at the optimum without whole
// steps.
func (m *Solver) Linearize(ctx context.Context) {
	m.linearizeFor(ctx, mip.Goal{Use: m.Plan.Aim}, anyUse())
}

// anyUse asks for the lowest worst use, whatever that is.
func anyUse() mip.Goal { return mip.Goal{LeastUse: true, MostUse: math.Inf(1), Cap: math.Inf(1)} }

// LowestUse asks for the lowest worst use within the limits.
func LowestUse() mip.Goal { return mip.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)} }

// linearizeFor is Linearize for the first of some goals that has an optimum without whole steps.
func (m *Solver) linearizeFor(ctx context.Context, goals ...mip.Goal) {
	m.Model = m.ModelAt(nil)
	m.beyond = false
	for n, goal := range goals {
		m.beyond = n > 0
		if r := m.relaxed(ctx, goal); r.X != nil {
			at := m.Model.movesOf(func(v int) float64 { return r.X[v] })
			m.Linearization = linearizedAt(m.Plan.Train, at)
			m.Model = m.ModelAt(m.Linearization)
			return
		}
	}
}

// relaxed is the optimum without whole steps that linear forms are tangent at: of a lowest use the least total about
// there, as among all points of that use some are far off.
func (m *Solver) relaxed(ctx context.Context, goal mip.Goal) bnb.Relaxed {
	r := bnb.Relax(ctx, &m.Model.Problem, goal)
	if goal.LeastUse && r.X != nil {
		near := mip.Goal{Use: r.Bound * (1 + NearLowest)}
		if l := bnb.Relax(ctx, &m.Model.Problem, near); l.X != nil && m.cost(r.X) > far*m.cost(l.X) {
			return l
		}
	}
	return r
}

// far is how many times the least total a total is from which on its moves are not those of a plan.
const far = 10

// cost is the weighted movement of a point, in mm.
func (m *Solver) cost(x []float64) float64 {
	var sum float64
	for j, v := range m.Model.Problem.Vars {
		sum += v.Weight * math.Abs(x[j])
	}
	return sum
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
	if ctx.Err() != nil && len(opt.Start) == 0 {
		return bnb.Result{Status: bnb.Cut, Goal: goal, Value: math.NaN(), Bound: math.Inf(-1)}
	}
	opt.Accept = m.accept(m.Model, most(goal))
	opt.Adds = m.adds
	opt, end := m.watched(goal, opt)
	searching, enough := PartOfTime(ctx, searchPart)
	r := bnb.Find(searching, &m.Model.Problem, goal, opt)
	end()
	m.timeOut = m.timeOut || searching.Err() != nil
	enough()
	m.Plan.Solves += r.Solves
	m.none = r.Status == bnb.Impossible
	if m.none && !m.Seeking { // by linear forms, that is
		r = m.firm(ctx, r, opt.Start...)
	}
	return r
}

// FindNear is Find of the total near a machine alone, with all others as some steps have them, without a bound.
func (m *Solver) FindNear(ctx context.Context, use float64, at mip.Steps, machine int, opt bnb.Options) bnb.Result {
	opt.Accept, opt.Adds = m.accept(m.Model, use), nil
	from, to := m.Model.Blocks(Limit{Machine: machine, Coupling: -1})
	r := bnb.FindNear(ctx, &m.Model.Problem, mip.Goal{Use: use}, at, from, to, opt)
	m.Plan.Solves += r.Solves
	return r
}

// searchPart is the share of the time that a search may take: the rest is left to make its proof hold.
const searchPart = 0.85

// accept says of a point whether the train's true geometry keeps every limit there.
func (m *Solver) accept(k *Model, use float64) func(mip.Steps) bool {
	t := k.Train
	return func(s mip.Steps) bool {
		moves := k.Moves(s)
		state := t.Check(moves)
		return len(Breaks(t, moves, &state, use)) == 0
	}
}

// known is the point of the moves to start from, if they keep all limits, those of couplings to a share; none where
// they do not or are not known.
func (m *Solver) known(use float64) []mip.Steps {
	if m.Options.Start == nil {
		return nil
	}
	s := m.Model.Steps(m.Options.Start)
	if s == nil || !m.accept(m.Model, use)(s) {
		return nil
	}
	return []mip.Steps{s}
}

// adds is what a point uses of each limit, in shares, beyond what the
// problem's rows say.
func (m *Solver) adds(s mip.Steps) []float64 {
	there := m.ModelAt(linearizedAt(m.Plan.Train, m.Model.Moves(s)))
	here, out := bnb.Shares(&m.Model.Problem, s), bnb.Shares(&there.Problem, s)
	for i := range out {
		out[i] -= here[i]
	}
	return out
}

// LeastTotal looks for the smallest total at a use, from some points.
func (m *Solver) LeastTotal(ctx context.Context, use float64, start ...mip.Steps) bnb.Result {
	r := m.Find(ctx, mip.Goal{Use: use}, bnb.Options{Gap: m.Options.Gap, Solves: m.Options.Solves,
		Start: slices.Concat(m.known(use), start), Windows: m.windows, Tell: m.Options.Tell})
	m.OutOfWork = m.OutOfWork || r.Status == bnb.Cut
	return r
}

// Proven is the bound of a search, for moves by true geometry, once its proof has been verified; NaN where it has none
// that holds.
func (m *Solver) Proven(ctx context.Context, r bnb.Result) float64 {
	r = m.firm(ctx, r)
	p := &m.Model.Problem
	if r.Firm {
		p = m.truly(m.Model, r.Of)
	}
	if !Verified(ctx, p, r.Claim, r.Proof) {
		return math.NaN()
	}
	return r.Bound
}

// provenNone says whether a search has proven, for moves by true geometry, that there are none.
func (m *Solver) provenNone(ctx context.Context, r bnb.Result) bool {
	r = m.firm(ctx, r)
	return math.IsInf(r.Bound, 1) && math.IsInf(m.Proven(ctx, r), 1)
}

// firstOrder is the bound of a search by the linear forms, once its proof has been verified; else one that is lower.
func (m *Solver) firstOrder(ctx context.Context, r bnb.Result, lower float64) float64 {
	if r.Firm || !Verified(ctx, &m.Model.Problem, r.Claim, r.Proof) {
		return lower
	}
	return r.Bound
}

// Verified says whether a proof of what is claimed of a problem holds. After the context has
// ended it takes a little work, and what is not verified by then does not count.
func Verified(ctx context.Context, p *mip.Problem, c certify.Claim, proof *certify.Proof) bool {
	const late = 300_000 // rows of the boxes that are looked at after the end
	rows := len(c.Limits)
	if c.Limits == nil {
		rows = len(p.Limits)
	}
	var left atomic.Int64
	left.Store(int64(late / max(1, rows)))
	return proof != nil && certify.CheckUntil(p, c, proof, func() bool {
		return ctx.Err() != nil && left.Add(-1) < 0
	}) == nil
}

// CloseEnough is the relative gap at which a worst use counts as lowest where the
// lowest is asked for, and the cone programs that are worth it: a hundredth of
// a limit is less than any reading shows, and much of a low use is whole steps,
// where bounds are weak.
func (m *Solver) CloseEnough(ctx context.Context) (gap float64, solves int) {
	const share, most = 0.01, 600
	r := bnb.Relax(ctx, &m.Model.Problem, LowestUse())
	return math.Min(0.2, math.Max(NearLowest, share/math.Max(r.Bound, 1e-6))), min(most, m.Options.Solves)
}

// NearLowest is the relative gap at which a worst use counts as lowest.
const NearLowest = 0.005

// WorthSolving is how many cone programs are worth solving for a number of unknowns:
// each takes longer in a longer train, so there are fewer of them. Beyond some
// sixteen machines each also raises the bound by less, so there are fewer with
// the square; the plan itself is found by a rolling horizon, in proportion to the
// machines.
func WorthSolving(unknowns int) int {
	const most, all, long = 40000, 1920000, 64 // all: programs times unknowns
	if unknowns > long {
		return max(1, all/2*long/(unknowns*unknowns))
	}
	return min(most, all/max(1, unknowns))
}

// Cut says why the search ended early.
func (m *Solver) Cut(ctx context.Context) string {
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded), ctx.Err() == nil && m.timeOut:
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

// Confine limits what the variables may be set to, and writes the problem anew
// where the plan will then about be.
func (m *Solver) Confine(ctx context.Context, within func(k *Model)) {
	m.within = within
	m.Linearize(ctx)
}

// RelaxationInfeasible says the same of a share of the coupling limits.
func RelaxationInfeasible(ctx context.Context, p *mip.Problem, use float64) bool {
	r := bnb.Relax(ctx, p, mip.Goal{Use: use})
	return r.Impossible() && Verified(ctx, p, r.Claim, r.Proof)
}
