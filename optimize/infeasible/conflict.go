package infeasible

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// conflict finds limits that cannot hold together, by leaving out one after
// another whatever is not needed for the proof that nothing is feasible: the
// limits of one foot's pack, the bolts of one station, one coupling in one
// condition at a time. What is left is one such set; there may be others. Where
// the limits could hold together if shims and dials had no steps, the steps, or
// what they come from, are of the set, and whatever was not proven to be
// dispensable stays in it.
//
// Linear forms as the train stands come first: they are those of small moves, the same
// in every condition. Where limits are left out and moves are as long as they like, forms
// that are tangent to true geometry elsewhere would let a tilt of the whole train pay for what only
// growth can change.
func conflict(ctx context.Context, m *optimize.Solver) []optimize.Member {
	c := newConflictFilter(ctx, m.Model)
	var again func(*mip.Problem) bool
	if free := newConflictFilter(ctx, m.ModelAt(nil)).stepless(); relaxationInfeasible(ctx, &free.problem) {
		c = free
		c.impossible = func(p *mip.Problem) bool { return relaxationInfeasible(ctx, p) }
		c.sift()
	} else if free := c.stepless(); relaxationInfeasible(ctx, &free.problem) {
		c = free
		c.impossible = func(p *mip.Problem) bool { return relaxationInfeasible(ctx, p) }
		c.sift()
	} else {
		left := m.Work() / conflictShare
		c.impossible = func(p *mip.Problem) bool { return integerInfeasible(ctx, p, fewSolves, &left) }
		again = func(p *mip.Problem) bool { return left > 0 && integerInfeasible(ctx, p, manySolves, &left) }
		c.integrality()
	}
	groups := c.ranges()
	for _, l := range c.labels {
		groups = appendNew(groups, grouped(c.task, l))
	}
	fixed := len(c.set)
	c.narrow(ctx, groups)
	if again != nil { // what is left of the work goes into what little of it did not dispense with
		groups = nil
		for _, g := range c.set[fixed:] {
			groups = append(groups, g.Limit)
		}
		c.set, c.impossible = c.set[:fixed], again
		c.narrow(ctx, groups)
	}
	if ctx.Err() != nil {
		return nil // not narrowed down
	}
	c.measure()
	return c.spread()
}

// narrow leaves out, first to last, what is not needed; several at once where all of
// them can go, which comes to the same.
func (c *conflictFilter) narrow(ctx context.Context, groups []optimize.Limit) {
	if ctx.Err() != nil || len(groups) == 0 {
		return
	}
	trial := c
	for _, g := range groups {
		trial = trial.without(g)
	}
	switch {
	case c.impossible(&trial.problem):
		c.problem, c.labels = trial.problem, trial.labels
	case len(groups) == 1:
		c.set = append(c.set, optimize.Member{Limit: groups[0]})
	default:
		c.narrow(ctx, groups[:len(groups)/2])
		c.narrow(ctx, groups[len(groups)/2:])
	}
}

// newConflictFilter is the set of all limits of a task.
func newConflictFilter(ctx context.Context, k *optimize.Model) *conflictFilter {
	c := &conflictFilter{ctx: ctx, task: k, problem: k.Problem, labels: k.Labels}
	c.unholed()
	return c
}

// grouped is the limit that stands for all that go with it.
func grouped(k *optimize.Model, l optimize.Limit) optimize.Limit {
	if feet := k.Together(l); len(feet) > 0 {
		l.Foot = feet[0]
	}
	return l
}

// stepless is the set as it were if shims and dials had no steps.
func (c *conflictFilter) stepless() *conflictFilter {
	const finer = 1024
	out := *c
	out.problem.Vars = slices.Clone(c.problem.Vars)
	for v := range out.problem.Vars {
		x := &out.problem.Vars[v]
		x.Step, x.Only, x.Least = x.Step/finer, nil, 0
	}
	return &out
}

// integrality puts into the set what of the integer points is needed: the stock, the least
// move, and where neither is, the steps themselves.
func (c *conflictFilter) integrality() {
	for _, kind := range []train.LimitKind{train.LimitStock, train.LimitLeast} {
		trial, has := *c, false
		trial.problem.Vars = slices.Clone(c.problem.Vars)
		for v := range trial.problem.Vars {
			x := &trial.problem.Vars[v]
			if kind == train.LimitStock {
				has, x.Only = has || x.Only != nil, nil
			} else {
				has, x.Least = has || x.Least > 1, 0
			}
		}
		switch {
		case !has:
		case c.impossible(&trial.problem):
			c.problem = trial.problem
		default:
			c.set = append(c.set, optimize.Member{Limit: optimize.Unplaced(kind), Short: math.NaN()})
		}
	}
	if len(c.set) == 0 {
		c.set = append(c.set, optimize.Member{Limit: optimize.Unplaced(train.LimitSteps), Short: math.NaN()})
	}
}

// relaxationInfeasible says whether it is proven that the limits cannot hold together even
// without steps.
func relaxationInfeasible(ctx context.Context, p *mip.Problem) bool {
	return optimize.RelaxationInfeasible(ctx, p, 1)
}

// conflictShare is the part, one in so many, of the work that a plan is worth that goes
// into narrowing down a conflict.
const conflictShare = 4

// fewSolves is how many programs go into whether a limit of a conflict is needed at first, and
// manySolves once more where that was not enough.
const fewSolves, manySolves = 60, 300

// integerInfeasible says whether it is proven, within some work and what is left of all of it,
// that no integer point keeps the limits.
func integerInfeasible(ctx context.Context, p *mip.Problem, solves int, left *int) bool {
	if *left <= 0 {
		return false
	}
	r := bnb.Find(ctx, p, mip.Goal{Use: 1}, bnb.Options{Solves: min(solves, *left), Gap: math.Inf(1), Proof: true})
	*left -= r.Solves
	return r.Status == bnb.Impossible && optimize.Verified(ctx, p, r.Claim, r.Proof)
}

// conflictFilter is a set of limits that is being narrowed down.
type conflictFilter struct {
	ctx        context.Context
	task       *optimize.Model
	problem    mip.Problem
	labels     []optimize.Limit // of each of problem.Limits
	impossible func(*mip.Problem) bool
	set        []optimize.Member // what is needed
}

// unholed leaves to bolts and holes what they are limits for, where ranges have
// them too: they come to the same.
func (c *conflictFilter) unholed() {
	vars := slices.Clone(c.problem.Vars)
	for v, g := range c.task.Groups {
		if g.Act != optimize.SideMove {
			continue
		}
		vars[v].Lo, vars[v].Hi = -optimize.Reach, optimize.Reach
		for _, f := range g.Feet {
			foot := &c.task.Train.Machines[g.Machine].Feet[f]
			vars[v].Lo, vars[v].Hi = math.Max(vars[v].Lo, -foot.TravelRight), math.Min(vars[v].Hi, foot.TravelLeft)
		}
	}
	trial := c.problem
	trial.Vars = vars
	if relaxationInfeasible(c.ctx, &c.problem) == relaxationInfeasible(c.ctx, &trial) {
		c.problem = trial
	}
}

// sift drops at once what the proof gives no weight.
func (c *conflictFilter) sift() {
	proof := bnb.Relax(c.ctx, &c.problem, mip.Goal{Use: 1}).Proof
	if proof == nil || proof.Certificate == nil {
		return
	}
	pull := proof.Certificate.Pull
	weights, most := make([]float64, len(c.labels)), 0.0
	at := 0
	for i := range c.problem.Limits {
		for range c.problem.Limits[i].Rows {
			weights[i] = math.Max(weights[i], math.Abs(pull[at])*c.problem.Limits[i].Radius)
			most = math.Max(most, weights[i])
			at++
		}
	}
	trial := *c
	trial.problem.Limits, trial.labels = nil, nil
	for i, l := range c.labels {
		if weights[i] > 1e-6*most {
			trial.problem.Limits, trial.labels = append(trial.problem.Limits, c.problem.Limits[i]), append(trial.labels, l)
		}
	}
	if c.impossible(&trial.problem) {
		c.problem, c.labels = trial.problem, trial.labels
	}
}

// without is the set less one limit.
func (c *conflictFilter) without(g optimize.Limit) *conflictFilter {
	out := *c
	if v := c.task.Variable(g); v >= 0 {
		out.problem.Vars = slices.Clone(c.problem.Vars)
		x := &out.problem.Vars[v]
		switch g.Kind {
		case train.LimitLower:
			x.Lo = -optimize.Reach
		case train.LimitRaise:
			x.Hi = optimize.Reach
		default:
			x.Lo, x.Hi = -optimize.Reach, optimize.Reach
		}
		return &out
	}
	out.problem.Limits, out.labels = nil, nil
	for i, l := range c.labels {
		if grouped(c.task, l) != g {
			out.problem.Limits, out.labels = append(out.problem.Limits, c.problem.Limits[i]), append(out.labels, l)
		}
	}
	return &out
}

// measure works out what each member alone would have to be relaxed for the others
// to hold.
func (c *conflictFilter) measure() {
	for k := range c.set {
		g := &c.set[k]
		if g.Kind == train.LimitSteps || g.Kind == train.LimitStock || g.Kind == train.LimitLeast {
			g.Short = math.NaN()
			continue
		}
		g.Short = c.short(g.Limit)
	}
}

// mostShort is the most, in mm or mrad, that a limit is said to be short by. A
// larger figure only says that the others hold together by moves of no use.
const mostShort = 10

func (c *conflictFilter) short(g optimize.Limit) float64 {
	p := c.problem
	e := &relaxationProgram{ctx: c.ctx, problem: &p, use: 1,
		slacks: []slack{{cost: 1, most: mostShort, limits: map[int]float64{}}}}
	if v := c.task.Variable(g); v >= 0 {
		x := p.Vars[v]
		p.Vars = c.without(g).problem.Vars
		if g.Kind != train.LimitRaise && x.Lo > -optimize.Reach {
			e.ranges = append(e.ranges, rangeEnd{v, -1, -x.Lo, 0})
		}
		if g.Kind != train.LimitLower && x.Hi < optimize.Reach {
			e.ranges = append(e.ranges, rangeEnd{v, 1, x.Hi, 0})
		}
		e.slacks[0].block = x.Block
	}
	for i, l := range c.labels {
		if grouped(c.task, l) == g {
			e.slacks[0].limits[i] = 1
			e.slacks[0].block = p.LastBlock(&p.Limits[i])
		}
	}
	amounts, _ := e.least()
	if amounts == nil || amounts[0] < 1e-9 {
		return math.NaN() // it alone is not enough, or it is the steps that are in conflict
	}
	return amounts[0]
}

// spread names every foot that a limit goes for, not only the first. Bolts that go
// sideways as one are bound by the tightest, and so are feet by their travel.
func (c *conflictFilter) spread() []optimize.Member {
	var out []optimize.Member
	for _, g := range c.set {
		feet := c.task.Together(g.Limit)
		if g.Kind == train.LimitBolt {
			feet = slices.DeleteFunc(slices.Clone(feet), func(f int) bool {
				return slices.ContainsFunc(feet, func(other int) bool { return c.tighter(g.Limit, other, f) })
			})
		}
		if g.Kind == train.LimitTravel {
			feet = c.travelling(g.Machine, feet)
		}
		if len(feet) == 0 {
			out = append(out, g)
		}
		for _, f := range feet {
			g.Foot = f
			out = append(out, g)
		}
	}
	return out
}

// travelling are those of some feet that go sideways as one whose own travel bounds them all, to the left or to the
// right.
func (c *conflictFilter) travelling(machine int, feet []int) []int {
	all := c.task.Train.Machines[machine].Feet
	left, right := math.Inf(1), math.Inf(1) // mm
	for _, f := range feet {
		left, right = math.Min(left, all[f].TravelLeft), math.Min(right, all[f].TravelRight)
	}
	return slices.DeleteFunc(slices.Clone(feet), func(f int) bool {
		atLeft := all[f].TravelLeft == left && !math.IsInf(left, 1)
		return !atLeft && !(all[f].TravelRight == right && !math.IsInf(right, 1))
	})
}

// tighter says of a limit of bolts whether a foot has less room for its bolt, in the same place, than
// another.
func (c *conflictFilter) tighter(l optimize.Limit, foot, other int) bool {
	feet := c.task.Train.Machines[l.Machine].Feet
	a, b := &feet[foot], &feet[other]
	if l.Condition >= 0 && a.Slide != b.Slide {
		return false
	}
	return a.BoltAt == b.BoltAt && optimize.Play(a) < optimize.Play(b)
}

func appendNew(set []optimize.Limit, l optimize.Limit) []optimize.Limit {
	if slices.Contains(set, l) {
		return set
	}
	return append(set, l)
}

// ranges are the limits that bound single variables, each named for the first
// foot that sets it.
func (c *conflictFilter) ranges() []optimize.Limit {
	var out []optimize.Limit
	for v, g := range c.task.Groups {
		l := optimize.Limit{Machine: g.Machine, Foot: g.Feet[0], Nozzle: -1, Coupling: -1, Condition: -1}
		kinds := []train.LimitKind{train.LimitLower, train.LimitRaise}
		switch g.Act {
		case optimize.SideMove:
			kinds = []train.LimitKind{train.LimitTravel}
		case optimize.AxialShift:
			kinds, l.Foot = []train.LimitKind{train.LimitShift}, -1
		}
		for _, kind := range kinds {
			if open := c.problem.Vars[v]; kind == train.LimitLower && open.Lo == -optimize.Reach || kind == train.LimitRaise &&
				open.Hi == optimize.Reach ||
				kind != train.LimitLower && kind != train.LimitRaise && math.Min(-open.Lo, open.Hi) == optimize.Reach {
				continue
			}
			l.Kind = kind
			out = append(out, l)
		}
	}
	return out
}
