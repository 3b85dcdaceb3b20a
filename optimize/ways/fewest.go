package ways

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A choice is what may be moved or left alone: the machines of a train, or
// its feet. A set of things is a number with a bit for each.
type choice struct {
	weight []int    // of each thing: what moving it counts
	needs  []uint32 // of each variable: the things that are moved when it is not 0
}

// mostThings is how many things sets are made of at most.
const mostThings = 24

// machineChoice are the machines that may be moved.
func machineChoice(k *optimize.Model) choice {
	var c choice
	for _, i := range k.Movable {
		for range k.Last[i] - k.First[i] {
			c.needs = append(c.needs, 1<<len(c.weight))
		}
		c.weight = append(c.weight, 1)
	}
	return c
}

// footChoice are the feet that may be moved; left and right feet at a station
// that are always set together are one thing that counts two.
func footChoice(k *optimize.Model) choice {
	var c choice
	for _, i := range k.Movable {
		thing := make([]uint32, len(k.Train.Machines[i].Feet))
		for v := k.First[i]; v < k.Last[i]; v++ {
			if k.Groups[v].Act == optimize.ShimChange {
				for _, f := range k.Groups[v].Feet {
					thing[f] = 1 << len(c.weight)
				}
				c.weight = append(c.weight, len(k.Groups[v].Feet))
			}
		}
		for v := k.First[i]; v < k.Last[i]; v++ {
			var need uint32
			for _, f := range k.Groups[v].Feet {
				need |= thing[f]
			}
			c.needs = append(c.needs, need)
		}
	}
	return c
}

// only leaves alone all that is not in a set.
func (c *choice) only(set uint32) func(k *optimize.Model) {
	return func(k *optimize.Model) {
		for v := range k.Problem.Vars {
			if c.needs[v]&^set != 0 {
				k.Problem.Vars[v].Fix()
			}
		}
	}
}

// each calls do with every set of a weight; do says whether to go on.
func (c *choice) each(weight int, do func(set uint32) bool) {
	var from func(i, left int, set uint32) bool
	from = func(i, left int, set uint32) bool {
		if left == 0 {
			return do(set)
		}
		for ; i < len(c.weight); i++ {
			if c.weight[i] <= left && !from(i+1, left-c.weight[i], set|1<<i) {
				return false
			}
		}
		return true
	}
	from(0, weight, 0)
}

// A sieve tells sets that may do from those that are proven not to.
type sieve struct {
	choice
	solver *optimize.Solver
	use    float64
	clause []uint32 // a set that does has a thing in each of these
	open   int      // sets that do not by linear forms, and are not proven not to
	firm   bool     // every clause so far was proven
}

// mostOpen is how many sets may be neither found to do nor proven not to before such a set rules out others too:
// else there may be too many to look at.
const mostOpen = 200

// A look is what is known of a part of what may be moved, without whole steps.
type look struct {
	solver *optimize.Solver // whose linear forms say so
	model  *optimize.Model  // with nothing else moved
	anew   bool             // its linear forms were written for this part
	bound  float64          // mm, the total; +Inf: nothing keeps the limits by these forms
	never  bool             // proven, by true geometry: nothing does
}

// look looks at a set.
func (s *sieve) look(ctx context.Context, set uint32) look {
	return lookAt(ctx, s.solver, s.use, s.only(set))
}

// lookAt looks at a part of what may be moved. Linear forms that are tangent where the plan with all
// of it is may miss plans far from there: where they have none within a share of the limits and that is not
// proven, they are written anew.
func lookAt(ctx context.Context, m *optimize.Solver, use float64, within func(*optimize.Model)) look {
	l := lookBy(ctx, m, m.Model.Within(within), use)
	if l.impossible() && !l.never && ctx.Err() == nil {
		l = lookAnew(ctx, m, use, within)
	}
	return l
}

// lookAnew is lookAt with linear forms that are written for that part.
func lookAnew(ctx context.Context, m *optimize.Solver, use float64, within func(*optimize.Model)) look {
	anew := m.Anew(ctx, use, within)
	l := lookBy(ctx, anew, anew.Model, use)
	l.anew = true
	return l
}

func lookBy(ctx context.Context, m *optimize.Solver, k *optimize.Model, use float64) look {
	r := bnb.Relax(ctx, &k.Problem, mip.Goal{Use: use})
	return look{m, k, false, r.Bound, r.Impossible() && m.Never(ctx, k, use)}
}

// with is a solver of what was looked at that counts its own work.
func (l *look) with() *optimize.Solver {
	m := l.solver.Beside(nil)
	m.Model = l.model
	return m
}

// impossible says whether nothing keeps the limits by the linear forms.
func (l *look) impossible() bool { return math.IsInf(l.bound, 1) }

// missed says whether a set lacks a thing that it needs.
func (s *sieve) missed(set uint32) bool {
	for _, c := range s.clause {
		if set&c == 0 {
			return true
		}
	}
	return false
}

// learn grows a set that is proven not to do as far as that still is: one of the things
// outside it is needed. One of which it is not proven counts for itself alone.
func (s *sieve) learn(ctx context.Context, set uint32, is look) {
	if !is.never {
		if s.open++; s.open <= mostOpen {
			return
		}
		s.firm = false
	}
	for i := range s.weight {
		if set&(1<<i) != 0 || ctx.Err() != nil {
			continue
		}
		if l := s.look(ctx, set|1<<i); l.never || !is.never && l.impossible() {
			set |= 1 << i
		}
	}
	s.clause = append(s.clause, (uint32(1)<<len(s.weight)-1)&^set)
}

// A candidate is a set that may do.
type candidate struct {
	look
	set uint32
}

// ofWeight are the sets of a weight that may do, the one that promises the smallest total first; all says that the
// others are proven not to do. spend is told of cone programs as they are solved, and says whether to go on.
func (s *sieve) ofWeight(ctx context.Context, weight int, spend func(programs int) bool) (open []candidate, all bool) {
	unknown, on := s.open, true
	s.each(weight, func(set uint32) bool {
		if s.missed(set) {
			return ctx.Err() == nil
		}
		programs := 1
		if l := s.look(ctx, set); l.impossible() {
			s.learn(ctx, set, l)
			programs += len(s.weight) - weight
		} else {
			open = append(open, candidate{l, set})
		}
		on = spend(programs)
		return on && ctx.Err() == nil
	})
	slices.SortStableFunc(open, func(a, b candidate) int { return cmp.Compare(a.bound, b.bound) })
	return open, on && s.firm && s.open == unknown && ctx.Err() == nil
}

// fewest looks for the plan that moves the fewest: set by set, lightest first.
// Those that do without whole steps are searched with them, the one that
// promises the smallest total first.
func fewest(ctx context.Context, m *optimize.Solver, c choice, use float64) (bnb.Result, float64) {
	if len(c.weight) > mostThings {
		m.TooMany = true
		return bnb.Result{}, math.NaN()
	}
	s := &sieve{choice: c, solver: m.Beside(nil), use: use, firm: true}
	most := 0
	for _, w := range c.weight {
		most += w
	}
	proven, firm := 0, true
	for weight := range most + 1 {
		open, all := s.ofWeight(ctx, weight, func(int) bool { return true })
		firm = firm && all
		if firm {
			proven = weight
		}
		best, bound, none := bestOf(ctx, m, s, open)
		if best.Steps != nil {
			m.Plan.First, m.Plan.FirstBound = float64(weight), float64(proven)
			m.OutOfWork = m.OutOfWork || !firm || best.Status == bnb.Cut
			if !all {
				bound = math.NaN()
			}
			return best, bound
		}
		firm = firm && none
	}
	return bnb.Result{}, math.NaN()
}

// bestOf is the plan with the smallest total of those that move one of some
// sets only, with a proven bound on that total; or whether it is proven that
// there is none.
func bestOf(ctx context.Context, m *optimize.Solver, s *sieve, open []candidate) (best bnb.Result,
	bound float64, none bool) {
	bound, none = math.Inf(1), true
	var chosen uint32
	for n, o := range open {
		if best.Steps != nil && o.bound >= best.Value*(1-totalGap(m)) {
			bound = math.Min(bound, s.proven(ctx, open[n:]))
			break
		}
		m.Confine(ctx, s.only(o.set))
		r := m.Find(ctx, mip.Goal{Use: s.use}, bnb.Options{Gap: m.Options.Gap, Solves: m.Options.Solves,
			Tell: m.Options.Tell})
		p := m.Proven(ctx, r)
		none = none && math.IsInf(p, 1)
		bound = math.Min(bound, p)
		if r.Steps != nil && (best.Steps == nil || r.Value < best.Value) {
			best, chosen = r, o.set
		}
	}
	if best.Steps != nil {
		m.Confine(ctx, s.only(chosen))
	}
	return best, math.Min(bound, best.Value), none
}

// mostProven is how many sets get a proven bound on their total at most, one by one.
const mostProven = 40

// proven is a proven bound on the total if no more is moved than one of some sets; NaN: not known.
func (s *sieve) proven(ctx context.Context, open []candidate) float64 {
	if len(open) > mostProven {
		return math.NaN()
	}
	bound := math.Inf(1)
	for _, o := range open {
		bound = math.Min(bound, o.solver.LeastProven(ctx, o.model, mip.Goal{Use: s.use}))
	}
	return bound
}

// totalGap is the relative gap at which a total counts as least.
func totalGap(m *optimize.Solver) float64 {
	if m.Options.Gap > 0 {
		return m.Options.Gap
	}
	return 0.001
}
