package ways

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/optimize/robust"
)

// This file has the searches for the rows of a pool.

// without leaves one machine alone.
func without(machine int) func(*optimize.Model) {
	return func(k *optimize.Model) {
		for v := k.First[machine]; v < k.Last[machine]; v++ {
			k.Problem.Vars[v].Fix()
		}
	}
}

// total looks for the least total of a question, with one machine left alone where it
// says so.
func (s *poolSearch) total(q *Question, starts []mip.Steps, part float64) finding {
	opt := bnb.Options{Gap: poolGap, Solves: s.programs(part), Windows: s.programs(part), Start: starts,
		Tries: s.tries(totalTries)}
	m := s.solver(nil)
	var r bnb.Result
	if q.Machine >= 0 {
		if m, r = s.leaveOut(q, starts[0]); r.Steps == nil {
			reserve := reserveWithout
			m, r = s.within(lookAt(s.ctx, m, q.Use, without(q.Machine)), q.Use, without(q.Machine), opt, &reserve)
		}
	} else {
		r = m.Find(s.ctx, mip.Goal{Use: q.Use}, opt)
	}
	out := finding{solves: m.Plan.Solves, bound: func(ctx context.Context) float64 {
		if bound := m.Proven(ctx, r); !math.IsNaN(bound) {
			return bound
		}
		return m.LeastProven(ctx, m.Model, mip.Goal{Use: q.Use})
	}}
	out.none = r.Status == bnb.Impossible && math.IsInf(m.Proven(s.ctx, r), 1)
	if r.Steps != nil {
		out.steps = []mip.Steps{r.Steps}
	}
	return out
}

// leaveOut looks for the least total of a long train with one machine left alone, near it: what is further away stays
// as a plan has it.
func (s *poolSearch) leaveOut(q *Question, plan mip.Steps) (*optimize.Solver, bnb.Result) {
	m := s.solver(without(q.Machine))
	if !s.long() {
		return m, bnb.Result{}
	}
	return m, m.FindNear(s.ctx, q.Use, plan, q.Machine, bnb.Options{Gap: poolGap, Solves: solvesNear})
}

// within looks for the least total of a part that was looked at. Where nothing is found and that is not proven, it
// looks again with the programs of a reserve, by linear forms that are written for the part. The solver is the one that
// the result is of.
func (s *poolSearch) within(l look, use float64, part func(*optimize.Model), opt bnb.Options,
	reserve *int) (*optimize.Solver, bnb.Result) {
	m := l.with()
	r := m.Find(s.ctx, mip.Goal{Use: use}, opt)
	if r.Steps != nil || r.Status == bnb.Impossible || *reserve <= 0 || s.ctx.Err() != nil {
		return m, r
	}
	if !l.anew {
		l = lookAnew(s.ctx, s.base, use, part)
	}
	again := l.with()
	opt.Solves = *reserve
	r = again.Find(s.ctx, mip.Goal{Use: use}, opt)
	*reserve -= again.Plan.Solves
	again.Plan.Solves += m.Plan.Solves
	return again, r
}

// solvesNear is how many programs a search near a machine may solve.
const solvesNear = 400

// mostLeftOut is how many machines are left out in turn at most, the least moved first: each takes a cone program of
// the whole train.
const mostLeftOut = 40

// cheapest is the machine of the plan so far whose leaving out promises the smallest
// total, without whole steps; -1: each that was looked at is needed. Those are noted.
func (s *poolSearch) cheapest() int {
	machines := s.leastMoved(mostLeftOut)
	looks := make([]look, len(machines))
	var all bnb.Relaxed // with no machine left alone
	if s.long() {
		all = bnb.Relax(s.ctx, &s.model.Problem, mip.Goal{Use: s.use})
	}
	_ = atOnce(len(machines), func(n int) error {
		looks[n] = s.lookWithout(machines[n], all)
		return nil
	})
	best, least := -1, math.Inf(1)
	for n, i := range machines {
		if s.ctx.Err() != nil {
			break
		}
		l := &looks[n]
		s.Solves++
		if l.bound < least {
			best, least = i, l.bound
		}
		if l.never {
			s.Needed = append(s.Needed, i)
		}
	}
	return best
}

// lookWithout looks at the train with one machine left alone, near it in a long one. all is the optimum with no machine
// left alone.
func (s *poolSearch) lookWithout(machine int, all bnb.Relaxed) look {
	if s.long() {
		k := s.model.Within(without(machine))
		from, to := k.Blocks(optimize.Limit{Machine: machine, Coupling: -1})
		near := bnb.RelaxNear(s.ctx, &k.Problem, mip.Goal{Use: s.use}, all, from, to)
		if near.Proof != nil && !near.Impossible() {
			return look{solver: s.base, model: k, bound: near.Bound}
		}
	}
	return lookAt(s.ctx, s.solver(nil), s.use, without(machine))
}

// leastMoved are the machines of the plan so far in their order; where they are more than some, those that move least.
func (s *poolSearch) leastMoved(most int) []int {
	machines := slices.Clone(s.Plans[0].Machines)
	if len(machines) <= most {
		return machines
	}
	moves := s.Plans[0].Moves
	slices.SortStableFunc(machines, func(a, b int) int {
		return cmp.Compare(optimize.Movement(moves[a]), optimize.Movement(moves[b]))
	})
	machines = machines[:most]
	slices.Sort(machines)
	return machines
}

// settled says whether the least total without one machine was found already.
func (s *poolSearch) settled(machine int) bool {
	c := machineChoice(s.model)
	if len(c.weight) > mostThings {
		return false
	}
	all := uint32(1)<<len(c.weight) - 1
	return slices.Contains(s.sets, all&^c.needs[s.model.First[machine]])
}

// leastPart is the last part of the way from wider shares of the limits to the lowest that
// is gone step by step.
const leastPart = 0.1

// long says whether the train is a very long chain.
func (s *poolSearch) long() bool { return len(s.model.Movable) > bnb.VeryLong }

// alike is how many programs, or tries, take as long in a long train as some do in one that is not.
func (s *poolSearch) alike(programs int) int {
	return programs * mostThings / max(mostThings, len(s.model.Movable))
}

// farthest is how many times the total of the plan the closest costs at most in a long train: without a limit on what
// it costs it may stand anywhere there. In others more work goes into its total where it is further.
const farthest = 3

// closest looks for the lowest worst share, and then for the least total that has it.
func (s *poolSearch) closest(starts []mip.Steps) finding {
	m := s.solver(nil)
	goal := optimize.LowestUse()
	opt := bnb.Options{Gap: robust.NearCentre, Solves: max(leastClosest, s.alike(s.programs(partLowest))), Start: starts,
		Tries: s.alike(s.tries(lowestTries))}
	if s.long() {
		goal.Cap, opt.Near = farthest*s.Base.Total, nearClosest
	}
	low := m.Find(s.ctx, goal, opt)
	out := finding{first: func(ctx context.Context) float64 { return m.Proven(ctx, low) }}
	if low.Steps == nil {
		out.solves = m.Plan.Solves
		return out
	}
	state := s.Base.Train.Check(m.Model.Moves(low.Steps))
	use := math.Min(1, state.Worst()+nearClosest)
	// From what is known at wider shares, closer and closer: each plan is near the one before. In a long train each of
	// these searches takes as long as that for the plan.
	from := slices.Clone(starts)
	for part := 0.5; part > leastPart && !s.long(); part /= 2 {
		wider := use + part*math.Max(0, s.use-use)
		r := m.Find(s.ctx, mip.Goal{Use: wider},
			bnb.Options{Gap: poolGap, Solves: s.programs(partCloser), Start: from, Tries: s.tries(closerTries)})
		if r.Steps != nil {
			from = append(from, r.Steps)
		}
	}
	total := func(solves int, from ...mip.Steps) bnb.Result {
		return m.Find(s.ctx, mip.Goal{Use: use}, bnb.Options{Gap: poolGap, Solves: solves, Start: from,
			Tries: s.tries(closestTries)})
	}
	r := total(max(leastClosest, s.programs(partClosest)), append(from, low.Steps)...)
	if !s.long() && r.Value > farthest*s.Base.Total {
		r = total(reserveClosest, r.Steps)
	}
	out.bound = func(ctx context.Context) float64 { return m.Proven(ctx, r) }
	out.solves = m.Plan.Solves
	out.steps = append(out.steps, low.Steps)
	if r.Steps != nil {
		out.steps = append(out.steps, r.Steps)
	}
	return out
}

// fewest looks for a plan that moves fewer machines than the first of the pool: set by
// set, smallest first, those that do without whole steps searched with them, the one that
// promises the smallest total first.
func (s *poolSearch) fewest(q *Question, starts []mip.Steps) finding {
	var out finding
	c, left := machineChoice(s.model), s.programs(partFewest)
	if len(c.weight) > mostThings {
		return out
	}
	f := &sieve{choice: c, solver: s.solver(nil), use: q.Use, firm: true}
	first := 0.0
	out.first = func(context.Context) float64 { return first }
	looks, reserve := max(left, leastLooks), reserveFewest
	sound := true // sets with fewer machines are proven not to do
	for weight := 0; weight < len(s.Plans[0].Machines); weight++ {
		open, all := f.ofWeight(s.ctx, weight, func(programs int) bool {
			looks, left, out.solves = looks-programs, left-programs, out.solves+programs
			return looks > 0
		})
		none, least := all, math.Inf(1)
		var bounds []func(context.Context) float64 // of the total with each open set
		for n, o := range open {
			known := !math.IsInf(least, 1)
			if o.bound >= least || left <= 0 && (known || reserve <= 0) {
				none = false
				bounds = append(bounds, func(ctx context.Context) float64 { return f.proven(ctx, open[n:]) })
				break
			}
			parts := min(2, len(open)-n) // all that is left for the last one
			mine := max(1, left/parts)
			m, r := s.within(o.look, q.Use, c.only(o.set), bnb.Options{Gap: poolGap, Solves: mine,
				Start: starts, Tries: s.tries(fewestTries) / parts}, &reserve)
			left, out.solves = left-min(m.Plan.Solves, mine), out.solves+m.Plan.Solves
			none = none && r.Status == bnb.Impossible && math.IsInf(m.Proven(s.ctx, r), 1)
			bounds = append(bounds, func(ctx context.Context) float64 { return m.Proven(ctx, r) })
			if r.Steps != nil {
				least = math.Min(least, r.Value)
				out.steps = append(out.steps, r.Steps)
			}
			if r.Status == bnb.Least {
				out.sets = append(out.sets, o.set)
			}
		}
		if !math.IsInf(least, 1) {
			if all {
				out.bound = func(ctx context.Context) float64 { return leastOf(ctx, bounds) }
			}
			return out
		}
		if looks <= 0 || reserve <= 0 || s.ctx.Err() != nil {
			return out
		}
		// Else a set of this size may do: more machines may not be the fewest.
		if sound = sound && none; sound {
			first = float64(weight + 1)
		}
	}
	return out
}

// leastOf is the least of some bounds; NaN where one of them is not known.
func leastOf(ctx context.Context, bounds []func(context.Context) float64) float64 {
	least := math.Inf(1)
	for _, bound := range bounds {
		least = math.Min(least, bound(ctx))
	}
	return least
}
