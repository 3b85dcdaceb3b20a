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

// poolBackOffs is how many back-offs are tried for the chance of a pool.
const poolBackOffs = 5

// likely looks for the least total with a chance: limits are backed off by a number of
// standard deviations of their own errors, and the smallest number that is enough is
// narrowed down, a short search at a time. From there a local search goes on by the chance
// itself.
func (s *poolSearch) likely(q *Question, starts []mip.Steps) finding {
	all := s.solver(nil)
	goal := mip.Goal{Use: q.Use}
	out := finding{bound: func(ctx context.Context) float64 { return all.LeastProven(ctx, all.Model, goal) }}
	wanted := quantileOf(q.needed())
	low := math.Max(0, robust.Quantile(q.Chance))
	last := &s.Plans[0]
	if q.Chance >= 0.5 {
		// At every single limit a plan has the chance too.
		out.solves++
		short := robust.NarrowBackOff(s.planOf(last), low)
		out.none = s.never(short, q.Use)
		if out.none {
			return out
		}
		narrow := s.solver(robust.BackedOff(short))
		out.bound = func(ctx context.Context) float64 { return narrow.LeastProven(ctx, narrow.Model, goal) }
	}
	high := math.Max(low+0.5, robust.EvenBackOff(s.planOf(last), q.Chance))
	offLow, offHigh := math.NaN(), math.NaN()
	steps := slices.Clone(starts)
	trial := &Pool{Base: s.Base, known: map[string]int{}, sample: s.sample} // checked plans of this search alone
	for range poolBackOffs {
		if s.ctx.Err() != nil {
			break
		}
		k := (low + high) / 2
		if offLow < 0 && offHigh >= 0 {
			k = low + (high-low)*math.Min(0.85, math.Max(0.15, -offLow/(offHigh-offLow)))
		}
		short := robust.BackOff(s.planOf(last), k)
		if slices.Min(short) < robust.Tightest {
			high, offHigh = k, math.NaN()
			continue
		}
		m := s.solver(robust.BackedOff(short))
		solves := s.programs(partChance / poolBackOffs)
		r := m.Find(s.ctx, mip.Goal{Use: 1}, bnb.Options{Gap: poolGap, Solves: solves, Start: steps})
		out.solves += m.Plan.Solves
		at := -1
		if r.Steps != nil {
			at = trial.add(s.ctx, s.model, r.Steps)
		}
		if at < 0 {
			high, offHigh = k, math.NaN()
			continue
		}
		last = &trial.Plans[at]
		steps, out.steps = append(steps, r.Steps), append(out.steps, r.Steps)
		off := quantileOf(last.Chance) - wanted
		if off >= 0 {
			high, offHigh = k, off
		} else {
			low, offLow = k, off
		}
		if high-low < robust.NearBackOff {
			break
		}
	}
	for _, known := range starts {
		trial.add(s.ctx, s.model, known)
	}
	if best := trial.best(q, math.Inf(1)); best >= 0 {
		out.steps = append(out.steps, s.descend(q, trial, best)...)
	}
	return out
}

// planOf is as much of a plan as its errors need.
func (s *poolSearch) planOf(p *PooledPlan) *optimize.Plan {
	return &optimize.Plan{Result: optimize.Result{Train: s.Base.Train, Moves: p.Moves, Planned: p.state}}
}

// never says whether it is proven that nothing keeps a share of the coupling limits that
// are backed off.
func (s *poolSearch) never(short []float64, use float64) bool {
	if slices.Min(short) <= 0 {
		return true
	}
	m := s.solver(robust.BackedOff(short))
	return bnb.Relax(s.ctx, &m.Model.Problem, mip.Goal{Use: use}).Impossible() && m.Never(s.ctx, m.Model, use)
}

const (
	// mostDescents is how many points a descent looks at by their chance at most, and
	// quickDraws are the draws by which it turns most of them down.
	mostDescents, quickDraws = 300, 1000
	// fewDescents is that for a chance in place of the one that is asked for.
	fewDescents = 75
	// surelyLess is how many standard errors below the chance that is needed a point is
	// turned down by those.
	surelyLess = 3
)

// descend goes from a plan that has a chance to ones of smaller totals that have it too, by
// one or two steps of shims or dials at a time; it solves no programs.
func (s *poolSearch) descend(q *Question, trial *Pool, from int) (found []mip.Steps) {
	at, left := from, mostDescents
	if q.Kind == AskInReach {
		left = fewDescents
	}
	for left > 0 {
		now := trial.Plans[at]
		next := -1
		for _, steps := range s.near(now.steps, now.Total) {
			if left <= 0 || s.ctx.Err() != nil {
				return found
			}
			n, tried := s.keeping(q, trial, steps)
			if tried {
				left--
			}
			if n >= 0 && trial.Plans[n].Total < now.Total {
				next = n
				break
			}
		}
		if next < 0 {
			return found
		}
		at, found = next, append(found, trial.Plans[next].steps)
	}
	return found
}

// keeping is the index in a pool of a point that keeps what is asked; -1: it does not.
// tried says whether its chance was looked at.
func (s *poolSearch) keeping(q *Question, trial *Pool, steps mip.Steps) (n int, tried bool) {
	if n, is := trial.known[steps.Key()]; is {
		if n >= 0 && !q.Keeps(&trial.Plans[n]) {
			n = -1
		}
		return n, false
	}
	moves := s.model.Moves(steps)
	state := s.Base.Train.Check(moves)
	if state.Worst() > q.Use || len(optimize.Breaks(s.Base.Train, moves, &state, q.Use)) > 0 {
		trial.known[steps.Key()] = -1
		return -1, false
	}
	quick := s.sample.ShareWithin(s.ctx, s.planOf(&PooledPlan{Moves: moves, state: state}), quickDraws)
	if quick < q.needed()-surelyLess*robust.StandardError(q.Chance, quickDraws) {
		trial.known[steps.Key()] = -1
		return -1, true
	}
	if n = trial.add(s.ctx, s.model, steps); n >= 0 && !q.Keeps(&trial.Plans[n]) {
		n = -1
	}
	return n, true
}

// near are the points one or two steps from some with a total below one in mm, the
// smallest first.
func (s *poolSearch) near(from mip.Steps, below float64) []mip.Steps {
	type point struct {
		steps mip.Steps
		total float64
	}
	var all []point
	vars := s.model.Problem.Vars
	hop := func(steps mip.Steps, v, by int) mip.Steps {
		to, ok := vars[v].Hop(steps[v], by)
		if !ok || !within(&vars[v], to) {
			return nil
		}
		out := slices.Clone(steps)
		out[v] = to
		return out
	}
	offer := func(steps mip.Steps) {
		if total := costOf(&s.model.Problem, steps); total < below-leastLess {
			all = append(all, point{steps, total})
		}
	}
	for a := range vars {
		for _, by := range [2]int{1, -1} {
			one := hop(from, a, by)
			if one == nil {
				continue
			}
			offer(one)
			for b := a + 1; b < len(vars) && vars[b].Block <= vars[a].Block+1; b++ {
				for _, on := range [2]int{1, -1} {
					if two := hop(one, b, on); two != nil {
						offer(two)
					}
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b point) int { return cmp.Compare(a.total, b.total) })
	out := make([]mip.Steps, len(all))
	for n := range all {
		out[n] = all[n].steps
	}
	return out
}

// within says whether a variable may be so many steps off 0.
func within(v *mip.Var, n int) bool {
	x, fair := float64(n)*v.Step, v.Step/1000
	return x >= v.Lo-fair && x <= v.Hi+fair
}

// costOf is what steps come to in mm: as PooledPlan.Total.
func costOf(p *mip.Problem, steps mip.Steps) float64 {
	sum, last := 0.0, -1
	for v, n := range steps {
		if n == 0 {
			continue
		}
		x := &p.Vars[v]
		sum += x.Weight * x.Step * math.Abs(float64(n))
		if len(p.FixedCost) > 0 && x.Block != last {
			sum += p.FixedCost[x.Block]
		}
		last = x.Block
	}
	return sum
}

// leastLess in mm is what counts as a smaller total.
const leastLess = 1e-9

// quantileOf is the quantile of a share of optimize.Draws.
func quantileOf(share float64) float64 {
	return robust.Quantile(math.Min(math.Max(share, 0.5/robust.Draws), 1-0.5/robust.Draws))
}
