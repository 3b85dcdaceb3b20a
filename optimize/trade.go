package optimize

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize/lattice"
	"leastmove/optimize/search"
	"leastmove/train"
)

// A TradePoint is what keeping a share of the coupling limits costs.
type TradePoint struct {
	Use     float64 // share of the limits that was asked for
	Total   float64 // mm, of the plan; NaN: none was found
	Bound   float64 // mm, proven: no plan at this use has a smaller total; NaN: not known
	Reached float64 // worst share that the plan takes up
	Peak    float64 // mm, largest up or side move at any foot
	Moved   int     // machines
	// Relaxed is the least total in mm without whole steps, by the problem's linear
	// forms; proven. NaN: not known.
	Relaxed float64
}

// A Trade is the least total against the worst use of a coupling limit, from the
// closest alignment that the feet allow to all of the limits.
type Trade struct {
	Points []TradePoint // from the closest alignment on; nil: nothing keeps the limits, or none was found that does
	// Convex says that the totals without whole steps lie on a convex curve that
	// never rises, as they must where no machine costs anything to move at all.
	Convex bool
	Knee   int // index of the point where more movement stops paying; -1: the curve has none
}

// tradePoints is how many shares are looked at.
const tradePoints = 11

// TradeOff works out the total against the worst use, at shares evenly spread.
func TradeOff(ctx context.Context, t *train.Train, opt Options) (*Trade, error) {
	opt.Brief, opt.Strategy = true, Closest
	t, err := opt.given(t)
	if err != nil {
		return nil, err
	}
	m := &maker{plan: newPlan(t, opt), opt: opt}
	m.plan.Aim = 0
	m.linearise()
	m.opt.Solves = min(enough(len(m.task.problem.Vars)), 600)
	_, solves := m.closeEnough()
	low := m.find(ctx, lattice.Goal{LeastUse: true, MostUse: 1, Cap: math.Inf(1)}, search.Options{Gap: m.tradeGap(), Solves: solves, Tell: opt.Tell})
	trade := &Trade{Knee: -1}
	if low.Steps == nil {
		return trade, nil
	}
	closest := m.plan.Train.Check(m.task.set(low.Steps))
	first := math.Min(1, math.Max(low.Value, closest.Worst()))
	last := math.Max(first, math.Min(1, m.plan.Found.Worst()))
	start := low.Steps
	for n := range tradePoints {
		use := first + (last-first)*float64(n)/(tradePoints-1)
		if n == 0 {
			use = math.Min(last, use*(1+fair)) // room for the rounding of the arithmetic
		}
		var p TradePoint
		p, start = m.tradePoint(ctx, use, start)
		trade.Points = append(trade.Points, p)
	}
	trade.Convex = convex(trade.Points)
	trade.Knee = knee(trade.Points)
	return trade, nil
}

// tradeGap is the relative gap at which a point of the curve counts as found.
func (m *maker) tradeGap() float64 {
	const usual = 0.01
	if m.opt.TradeGap > 0 {
		return m.opt.TradeGap
	}
	return usual
}

// tradePoint is the plan at one share; a plan at a smaller one is one too.
func (m *maker) tradePoint(ctx context.Context, use float64, start lattice.Steps) (TradePoint, lattice.Steps) {
	nan := math.NaN()
	p := TradePoint{Use: use, Total: nan, Reached: nan, Peak: nan, Relaxed: nan}
	goal := lattice.Goal{Use: use}
	if r := search.Relax(&m.task.problem, goal); verified(&m.task.problem, r.Claim, r.Proof) {
		p.Relaxed = r.Bound
	}
	r := m.find(ctx, goal, search.Options{Gap: m.tradeGap(), Solves: m.opt.Solves, Start: []lattice.Steps{start}, Tell: m.opt.Tell})
	p.Bound = m.proven(r)
	if r.Steps == nil {
		return p, start
	}
	moves := m.task.set(r.Steps)
	state := m.plan.Train.Check(moves)
	p.Total, p.Reached, p.Peak, p.Moved = r.Value, state.Worst(), peak(m.task, r.Steps), moved(moves)
	return p, r.Steps
}

// convex says whether the totals without whole steps never rise and bend one way
// only, but for the tolerance of a solve.
func convex(points []TradePoint) bool {
	const tolerance = 1e-5
	slope := math.Inf(-1)
	for n := 1; n < len(points); n++ {
		a, b := points[n-1], points[n]
		if b.Use-a.Use < tolerance {
			continue
		}
		next := (b.Relaxed - a.Relaxed) / (b.Use - a.Use)
		room := tolerance * (1 + math.Abs(a.Relaxed)) / (b.Use - a.Use)
		if !(next <= room && next >= slope-room) {
			return false
		}
		slope = next
	}
	return true
}

// knee is the point that lies furthest below the straight line between the ends
// of the curve, both axes taken from end to end; -1 where none does by more
// than a twentieth.
func knee(points []TradePoint) int {
	const least = 0.05
	first, last := points[0], points[len(points)-1]
	if slices.ContainsFunc(points, func(p TradePoint) bool { return math.IsNaN(p.Total) }) || !(first.Total > last.Total) {
		return -1
	}
	best, most := -1, least
	for n, p := range points {
		along := (p.Use - first.Use) / (last.Use - first.Use)
		below := 1 - along - (p.Total-last.Total)/(first.Total-last.Total)
		if below > most {
			best, most = n, below
		}
	}
	return best
}
