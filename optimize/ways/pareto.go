package ways

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// A ParetoPoint is what keeping a share of the coupling limits costs.
type ParetoPoint struct {
	Use     float64 // share of the limits that was asked for
	Total   float64 // mm, of the plan; NaN: none was found
	Bound   float64 // mm, proven: no plan at this use has a smaller total; NaN: not known
	Reached float64 // worst share that the plan uses
	Largest float64 // mm, largest move at any foot: up, to a side or along the train
	Moved   int     // machines
	// Relaxed is the least total in mm without whole steps, by the problem's linear
	// forms; proven. NaN: not known.
	Relaxed float64
}

// A ParetoFront is the least total against the worst use of a coupling limit, from the
// closest alignment that the feet allow to all of the limits.
type ParetoFront struct {
	// Status is Planned where there are points, Impossible where it is proven that
	// nothing keeps the limits, else Undecided.
	Status optimize.Status
	Points []ParetoPoint // from the closest alignment on
	// Convex says that the totals without whole steps lie on a convex curve that
	// never rises, as they must where no machine costs anything to move at all.
	Convex bool
	// Sag is how far in mm that curve may lie below the straight lines from point to
	// point at most, which its being convex bounds; NaN where it is not.
	Sag  float64
	Knee int // index of the point where more movement stops paying; -1: the curve has none
}

// fewestPoints is how many shares are looked at first, evenly spread, and mostPoints
// how many at most. Others go where the curve without whole steps bends, until it is
// known to a share tradeSag of what it falls in all.
const (
	fewestPoints, mostPoints = 9, 21
	frontSag                 = 0.01
)

// Pareto works out the total against the worst use, at as many shares as the curve
// needs, all of it within Options.Limit. Of the other options Hold, Free, Solves,
// TradeGap and Tell count. An error is one of Make.
func Pareto(ctx context.Context, t *train.Train, opt optimize.Options) (*ParetoFront, error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Brief, opt.Strategy = true, optimize.Closest
	t, err := optimize.Given(t, opt)
	if err != nil {
		return nil, err
	}
	m := optimize.NewSolver(t, opt)
	m.Plan.Aim = 0
	m.Linearize(ctx)
	m.Options.Solves = min(optimize.WorthSolving(len(m.Model.Problem.Vars)), 600)
	if opt.Solves > 0 {
		m.Options.Solves = min(m.Options.Solves, opt.Solves)
	}
	_, solves := m.CloseEnough(ctx)
	low := m.Find(ctx, optimize.LowestUse(),
		bnb.Options{Gap: paretoGap(m), Solves: solves, Tell: opt.Tell})
	trade := &ParetoFront{Status: optimize.Planned, Knee: -1, Sag: math.NaN()}
	if low.Steps == nil {
		if trade.Status = optimize.Undecided; math.IsInf(m.Proven(ctx, low), 1) {
			trade.Status = optimize.Impossible
		}
		return trade, nil
	}
	closest := m.Plan.Train.Check(m.Model.Moves(low.Steps))
	first := math.Min(1, math.Max(low.Value, closest.Worst()))
	last := math.Max(first, math.Min(1, m.Plan.Found.Worst()))
	start := low.Steps
	// Room for the rounding of the arithmetic.
	for _, p := range relaxedCurve(ctx, m, math.Min(last, first*(1+optimize.CheckTolerance)), last) {
		start = paretoPoint(ctx, m, &p, start)
		trade.Points = append(trade.Points, p)
	}
	if trade.Convex = convex(trade.Points); trade.Convex {
		trade.Sag, _ = sag(trade.Points)
	}
	trade.Knee = knee(trade.Points)
	return trade, nil
}

// Know takes in a plan that was found elsewhere: where its worst share is kept, the curve is nowhere above its total,
// and one that is closer than all points is the first. Its total is that of the same train, holds and weights.
func (f *ParetoFront) Know(plan ParetoPoint) {
	if len(f.Points) == 0 || !(plan.Total >= 0) || !(plan.Reached > 0) {
		return
	}
	first := f.Points[0]
	if plan.Reached < first.Use*(1-optimize.CheckTolerance) {
		// What is proven of a larger share holds of a smaller one.
		plan.Use, plan.Bound, plan.Relaxed = plan.Reached, first.Bound, math.NaN()
		f.Points = slices.Insert(f.Points, 0, plan)
	}
	for n := range f.Points {
		p := &f.Points[n]
		if plan.Reached <= p.Use*(1+optimize.CheckTolerance) && !(p.Total <= plan.Total) {
			p.Total, p.Reached, p.Largest, p.Moved = plan.Total, plan.Reached, plan.Largest, plan.Moved
		}
	}
	f.Knee = knee(f.Points)
}

// relaxedCurve is the curve without whole steps, with points where it needs them.
func relaxedCurve(ctx context.Context, m *optimize.Solver, first, last float64) []ParetoPoint {
	points := []ParetoPoint{relaxedPoint(ctx, m, first)}
	for n := 1; n < fewestPoints && last > first; n++ {
		points = append(points, relaxedPoint(ctx, m, first+(last-first)*float64(n)/(fewestPoints-1)))
	}
	for len(points) < mostPoints && ctx.Err() == nil && convex(points) {
		most, at := sag(points)
		if !(most > frontSag*(points[0].Relaxed-points[len(points)-1].Relaxed)) {
			break
		}
		points = slices.Insert(points, at+1, relaxedPoint(ctx, m, (points[at].Use+points[at+1].Use)/2))
	}
	return points
}

// relaxedPoint is the least total without whole steps at one share.
func relaxedPoint(ctx context.Context, m *optimize.Solver, use float64) ParetoPoint {
	nan := math.NaN()
	p := ParetoPoint{Use: use, Total: nan, Bound: nan, Reached: nan, Largest: nan, Relaxed: nan}
	r := bnb.Relax(ctx, &m.Model.Problem, mip.Goal{Use: use})
	if optimize.Verified(ctx, &m.Model.Problem, r.Claim, r.Proof) {
		p.Relaxed = r.Bound
	}
	return p
}

// sag is how far a convex curve may lie below the straight lines from point to point
// at most, and between which point and the next: nowhere is it below the lines that
// go on from the neighbours.
func sag(points []ParetoPoint) (most float64, at int) {
	line := func(a, b ParetoPoint) (slope, start float64) {
		slope = (b.Relaxed - a.Relaxed) / (b.Use - a.Use)
		return slope, a.Relaxed - slope*a.Use
	}
	for n := 0; n+1 < len(points); n++ {
		a, b := points[n], points[n+1]
		if !(b.Use > a.Use) {
			continue
		}
		// From the left the curve goes on no steeper than before, from the right it
		// comes no flatter than after; at the last point it may be flat.
		rightSlope, rightStart := 0.0, b.Relaxed
		if n+2 < len(points) {
			rightSlope, rightStart = line(b, points[n+2])
		}
		use := a.Use // of the first point it is not known how it goes on: straight down
		if n > 0 && points[n].Use > points[n-1].Use {
			slope, start := line(points[n-1], a)
			if !(rightSlope-slope > 0) {
				continue
			}
			use = math.Min(b.Use, math.Max(a.Use, (start-rightStart)/(rightSlope-slope)))
		}
		slope, start := line(a, b)
		if below := slope*use + start - (rightSlope*use + rightStart); below > most {
			most, at = below, n
		}
	}
	return most, at
}

// paretoGap is the relative gap at which a point of the curve counts as found.
func paretoGap(m *optimize.Solver) float64 {
	const usual = 0.01
	if m.Options.ParetoGap > 0 {
		return m.Options.ParetoGap
	}
	return usual
}

// paretoPoint adds the plan at a point's share; a plan at a smaller one is one too.
func paretoPoint(ctx context.Context, m *optimize.Solver, p *ParetoPoint, start mip.Steps) mip.Steps {
	r := m.Find(ctx, mip.Goal{Use: p.Use}, bnb.Options{Gap: paretoGap(m), Solves: m.Options.Solves,
		Start: []mip.Steps{start}, Tell: m.Options.Tell})
	p.Bound = m.Proven(ctx, r)
	if r.Steps == nil {
		return start
	}
	moves := m.Model.Moves(r.Steps)
	state := m.Plan.Train.Check(moves)
	p.Total, p.Reached, p.Largest, p.Moved = r.Value, state.Worst(), largestMove(m.Model, r.Steps),
		optimize.MachinesMoved(moves)
	return r.Steps
}

// convex says whether the totals without whole steps never rise and bend one way
// only, but for the tolerance of a solve.
func convex(points []ParetoPoint) bool {
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
func knee(points []ParetoPoint) int {
	const least = 0.05
	first, last := points[0], points[len(points)-1]
	if slices.ContainsFunc(points, func(p ParetoPoint) bool { return math.IsNaN(p.Total) }) ||
		!(first.Total > last.Total) {
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
