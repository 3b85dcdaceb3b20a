package ways

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"leastmove/optimize"
	"leastmove/optimize/mip"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// A Pool is every plan that one run found for a train. All of its answers are taken from
// the same plans, so that a looser question is never answered by a dearer plan than a
// tighter one.
//
// What is in a pool, and so every answer, depends on the train, on the machines held and
// freed, on the chance that is asked for and on the bounds of the search alone.
type Pool struct {
	Base    *optimize.Plan   // as Make has it: the least total within the file's aim; no plan: Rows is nil
	Plans   []PooledPlan     // in the order in which they were found
	Rows    []Row            // of the questions that are answered from the pool, in the order of a page
	Needed  []int            // machines without which nothing keeps the limits, proven
	Asked   float64          // share, the chance that is asked for
	Solves  int              // cone programs solved for the pool, beyond those of Base
	options optimize.Options // of Base
	train   *train.Train     // of the file
	known   map[string]int
	sample  *robust.Sample   // of errors, for the plans' chances
	bare    *optimize.Solver // that found no plan, where what would help was not looked for; nil: else
	proving sync.Mutex       // bounds are worked out one at a time
	holding sync.Mutex       // held
	held    map[int]*Pool    // of the train with one more machine held, as far as they were made
}

// A PooledPlan is one plan of a pool. Its moves passed the check of a plan at all of the
// coupling limits.
type PooledPlan struct {
	Moves    train.Moves
	Total    float64 // mm, weighted by effort, fixed costs included: as Plan.Total
	Plain    float64 // mm, without weights
	Largest  float64 // mm, largest move at any foot: up, to a side or along the train
	Machines []int   // that move
	Feet     int     // that move
	Share    float64 // worst share of a coupling limit in any condition, true geometry
	Chance   float64 // share of the draws of Plan.Probability within all limits; NaN: no errors are stated
	state    train.State
	steps    mip.Steps
}

// A QuestionKind is one kind of question that a pool answers.
type QuestionKind string

const (
	AskLeast   QuestionKind = "least-total"
	AskFewest  QuestionKind = "fewest-machines"
	AskMargin  QuestionKind = "margin"
	AskChance  QuestionKind = "chance"
	AskInReach QuestionKind = "chance-in-reach" // where none was found with the chance asked for: a round one below
	AskClosest QuestionKind = "closest"
	AskWithout QuestionKind = "left-out"
)

// A Question is what a plan must keep, and by its kind what is best.
type Question struct {
	Kind    QuestionKind
	Use     float64 // share of the coupling limits that the plan may use
	Machine int     // that must not move; -1: none
	Chance  float64 // share, the least chance of ending within limits; 0: any
}

// A Row is a question with its answer.
type Row struct {
	Question
	Plan int  // index of Pool.Plans; -1: no plan was found
	None bool // proven: there is no plan
	// What is known of the row's bounds: mm of the total and share or machines, NaN: not
	// worked out yet; and what works them out, nil: nothing does.
	least, lowest float64
	bound, first  func(context.Context) float64
	aside         *Pool // that the answer is from, in its row of the least total; nil: from the row's own
}

// LeastChance is the least chance that a pool looks for in place of the one that is asked for, a share: pages advise
// against plans with less. Ours, common practice, no source.
const LeastChance = 0.80

// Margin is the share of the coupling limits that the row with a margin of a half may use.
const Margin = 0.5

// AboveLowest is the share of the coupling limits above the lowest worst share that a
// plan may use where the aim can't be kept: ours, common practice, no source.
const AboveLowest = 0.05

// nearClosest is the share of the coupling limits within which a worst share counts as
// the lowest: less than any reading shows.
const nearClosest = 0.01

// add checks steps and puts them into the pool; the index of the plan, -1 where it fails
// its check.
func (p *Pool) add(ctx context.Context, k *optimize.Model, s mip.Steps) int {
	key := s.Key()
	if at, is := p.known[key]; is {
		return at
	}
	p.known[key] = -1
	moves := k.Moves(s)
	state := p.Base.Train.Check(moves)
	if len(optimize.Breaks(p.Base.Train, moves, &state, 1)) > 0 {
		return -1
	}
	sum := &optimize.Plan{Result: optimize.Result{Train: p.Base.Train, Moves: moves, Planned: state}}
	sum.Measure()
	found := PooledPlan{
		Moves: moves, Total: sum.Total, Plain: sum.Plain, Largest: sum.Largest, Feet: optimize.FeetMoved(moves),
		Share: state.Worst(), Chance: math.NaN(), state: state, steps: s,
	}
	for i := range moves {
		if moves.Moved(i) {
			found.Machines = append(found.Machines, i)
		}
	}
	if p.Base.Train.ChanceKnown() {
		found.Chance = p.sample.ShareWithin(ctx, sum, robust.Draws)
	}
	p.Plans = append(p.Plans, found)
	p.known[key] = len(p.Plans) - 1
	return len(p.Plans) - 1
}

// starts are the steps of every plan so far, the smallest total first.
func (p *Pool) starts() []mip.Steps {
	var out []mip.Steps
	for _, n := range p.sorted(func(*PooledPlan) bool { return true }) {
		out = append(out, p.Plans[n].steps)
	}
	return out
}

// sorted are the plans that keep something, the smallest total first.
func (p *Pool) sorted(keeps func(*PooledPlan) bool) []int {
	var out []int
	for n := range p.Plans {
		if keeps(&p.Plans[n]) {
			out = append(out, n)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := &p.Plans[a], &p.Plans[b]
		return cmp.Or(cmp.Compare(x.Total, y.Total), cmp.Compare(len(x.Machines), len(y.Machines)),
			cmp.Compare(x.Share, y.Share))
	})
	return out
}

// Keeps says whether a plan keeps what a question asks.
func (q *Question) Keeps(p *PooledPlan) bool {
	return p.Share <= q.Use+optimize.CheckTolerance*math.Max(q.Use, 1e-3) &&
		!slices.Contains(p.Machines, q.Machine) && (q.Chance == 0 || p.Chance >= q.needed())
}

// needed is the share of the draws that a plan must have for the chance asked for:
// another simulation of as many draws then finds the chance too.
func (q *Question) needed() float64 {
	return math.Min(1, q.Chance+2*robust.StandardError(q.Chance, robust.Draws))
}

// best is the plan that answers a question, no dearer than a total in mm; -1: none does.
// A plan may spend Spare above the least total on fewer machines, and then on closer
// couplings; a share counts as the lowest within nearClosest.
func (p *Pool) best(q *Question, most float64) int {
	can := p.sorted(q.Keeps)
	if len(can) == 0 {
		return -1
	}
	measure := func(n int) float64 { return 0 }
	switch q.Kind {
	case AskFewest:
		measure = func(n int) float64 { return float64(len(p.Plans[n].Machines)) }
	case AskClosest:
		measure = func(n int) float64 { return p.Plans[n].Share }
	}
	first := math.Inf(1)
	for _, n := range can {
		first = math.Min(first, measure(n))
	}
	if q.Kind == AskClosest {
		first += nearClosest
	}
	can = slices.DeleteFunc(can, func(n int) bool { return measure(n) > first })
	if q.Kind == AskFewest || q.Kind == AskClosest {
		return can[0]
	}
	most = math.Min(most, p.Plans[can[0]].Total*(1+optimize.Spare))
	best := can[0]
	for _, n := range can {
		x, y := &p.Plans[n], &p.Plans[best]
		if x.Total <= most && cmp.Or(cmp.Compare(len(x.Machines), len(y.Machines)), cmp.Compare(x.Share, y.Share)) < 0 {
			best = n
		}
	}
	return best
}

// answer answers every row from the plans there are. What answers one row and keeps what
// another one asks bounds the total of that one's answer.
func (p *Pool) answer() {
	for n := range p.Rows {
		if p.Rows[n].aside == nil {
			p.Rows[n].Plan = p.best(&p.Rows[n].Question, math.Inf(1))
		}
	}
	for changed := true; changed; {
		changed = false
		for n := range p.Rows {
			if p.Rows[n].aside != nil {
				continue
			}
			q, most := &p.Rows[n].Question, math.Inf(1)
			for _, other := range p.Rows {
				if other.Plan >= 0 && q.Keeps(&p.Plans[other.Plan]) {
					most = math.Min(most, p.Plans[other.Plan].Total)
				}
			}
			if best := p.best(q, most); best != p.Rows[n].Plan {
				p.Rows[n].Plan, changed = best, true
			}
		}
	}
	for n := range p.Rows {
		if r := &p.Rows[n]; r.Plan >= 0 {
			r.None = false
		}
	}
}

// Bound is proven: no plan that keeps what a row asks has a smaller total, in mm; NaN: not
// known. It takes about as long as the search for the row did.
func (p *Pool) Bound(ctx context.Context, r *Row) float64 {
	if r.aside != nil {
		return r.aside.Bound(ctx, r.aside.RowOf(AskLeast))
	}
	bound := r.least
	if r.bound != nil {
		p.proving.Lock()
		b := r.bound(ctx)
		p.proving.Unlock()
		if b > bound || math.IsNaN(bound) {
			bound = b
		}
	}
	use := r.Use
	if r.Kind == AskClosest && r.Plan >= 0 {
		use = p.Plans[r.Plan].Share + nearClosest // at most
	}
	if least := &p.Rows[0]; use <= least.Use && (least.least > bound || math.IsNaN(bound)) {
		bound = least.least // what keeps the one keeps the other
	}
	return bound
}

// First is proven: no plan that keeps what a row asks has a smaller count of machines
// (AskFewest) or worst share (AskClosest); NaN elsewhere, and where nothing is known.
func (p *Pool) First(ctx context.Context, r *Row) float64 {
	if r.first == nil {
		return r.lowest
	}
	p.proving.Lock()
	defer p.proving.Unlock()
	return r.first(ctx)
}

// RowOf is the row of a kind; nil: the pool has none.
func (p *Pool) RowOf(kind QuestionKind) *Row {
	for n := range p.Rows {
		if p.Rows[n].Kind == kind {
			return &p.Rows[n]
		}
	}
	return nil
}

// rowOf is the row of a kind that has a plan, about a machine; -1: about none. nil: there is
// no such row.
func (p *Pool) rowOf(kind QuestionKind, machine int) *Row {
	if p == nil {
		return nil
	}
	if r := p.RowOf(kind); r != nil && r.Plan >= 0 && r.Machine == machine {
		return r
	}
	return nil
}

// Fits says whether a pool is what options ask for.
func (p *Pool) Fits(opt *optimize.Options) bool { return opt.Use == 0 && p.madeWith(opt) }

// madeWith says whether a pool was made with options: all that it depends on.
func (p *Pool) madeWith(opt *optimize.Options) bool {
	return slices.Equal(p.options.Hold, opt.Hold) && slices.Equal(p.options.Free, opt.Free) &&
		p.options.Solves == opt.Solves && p.options.Gap == opt.Gap
}

// MostLikely is the plan with the highest chance; -1: no chance is known.
func (p *Pool) MostLikely() int {
	best := -1
	for _, n := range p.sorted(func(x *PooledPlan) bool { return !math.IsNaN(x.Chance) }) {
		if best < 0 || p.Plans[n].Chance > p.Plans[best].Chance {
			best = n
		}
	}
	return best
}
