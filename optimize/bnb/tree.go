package bnb

import (
	"container/heap"
	"context"
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// Options bound a search. Zero values mean the defaults.
type Options struct {
	Gap    float64              // relative gap at which a plan counts as least (default 0.001)
	Near   float64              // gap at which a plan counts as least too, in the unit of the goal
	Solves int                  // most cone programs solved (default 20000): bounds the work, not the time
	Accept func(mip.Steps) bool // has the last word on a point that keeps every limit; nil: all are taken
	// Adds is what a point that Accept turned down uses of each limit beyond
	// what its rows say, in shares. It guides the search; nil: it is not known.
	Adds  func(mip.Steps) []float64
	Start []mip.Steps // points to begin with
	// Enough is a value at which the search may end; 0: none.
	Enough float64
	// Windows is how many programs windows of a very long chain may take, whatever Solves says. The search ends soon after
	// they have nothing better: its boxes hardly raise the bound, and parts of the chain do (Firm). 0: windows take a
	// part of Solves, and the search goes on.
	Windows int
	// Proof says that a proof that there is no point is wanted, more than a point: local searches
	// and dives are for the first box alone.
	Proof bool
	// Tries is how many neighbours breakouts may try from the first box on, which count among the solves of the result;
	// 0: breakouts wait until the search has long been without a point that is good enough.
	Tries int
	Tell  func(Progress) // called now and then; nil: not
}

// Progress is how far a search has come.
type Progress struct {
	LeastUse     bool    // the goal is the use, not the cost
	Value, Bound float64 // best so far (+Inf: none), lower bound
	Solves       int
}

// A Status says how a search ended.
type Status int

const (
	Unsolved   Status = iota
	Least             // the point's value is within the gap of the bound
	Impossible        // no integer point keeps the limits: proven
	Cut               // the work ran out; point (if any) and bound hold
)

// A Result is the best point found and what is proven.
type Result struct {
	Status Status
	Steps  mip.Steps // nil: none found
	Value  float64   // of the point; NaN without one
	Bound  float64   // no point has a lower value; +Inf: there is no point
	Solves int
	Goal   mip.Goal
	Firm   bool // what is said holds for what curved rows stand for
	// Of a firm result: the limits without curves whose curved ones are in the proof; nil: all.
	Of []int
	// Claim and Proof say why the bound holds, for package certify.
	Claim certify.Claim
	Proof *certify.Proof
}

// Gap is how far the value may be over the least one, relative.
func (r *Result) Gap() float64 {
	if r.Value == r.Bound {
		return 0
	}
	return (r.Value - r.Bound) / math.Abs(r.Value)
}

const (
	defaultGap    = 0.001
	defaultSolves = 20000
)

// Find searches the integer points, boxes of the lowest bound first. The same problem gives the same
// result, whatever the number of cores: how many boxes are split side by side hangs on the work alone,
// and what comes of them is taken in order.
func Find(ctx context.Context, p *mip.Problem, goal mip.Goal, opt Options) Result {
	if opt.Gap == 0 {
		opt.Gap = defaultGap
	}
	if opt.Solves == 0 {
		opt.Solves = defaultSolves
	}
	return newTree(ctx, p, goal, opt).run()
}

// newTree is a search that has not begun.
func newTree(ctx context.Context, p *mip.Problem, goal mip.Goal, opt Options) *tree {
	return treeOf(ctx, p, newReserve(p), goal, opt)
}

// treeOf is a search that has not begun, with a reserve of limits; nil: none.
func treeOf(ctx context.Context, p *mip.Problem, r *reserve, goal mip.Goal, opt Options) *tree {
	t := &tree{
		ctx: ctx, opt: opt, best: math.Inf(1), refused: map[string]bool{}, gain: make([][2]gain, len(p.Vars)),
		reserve: r, judge: &judge{goal: goal}, walkWork: walkWork,
		stretched: stretched{bound: math.Inf(-1)}, probed: probed{bound: math.Inf(-1)},
	}
	if r != nil {
		p = r.problem()
	}
	t.searched(p)
	t.lo, t.hi = t.grid.lo, t.grid.hi
	if !goal.LeastUse {
		t.grain = t.grid.grain()
		t.sloped = slices.ContainsFunc(p.Vars, func(v mip.Var) bool { return v.Slope != 0 })
	}
	return t
}

// searched has the tree search a problem with the same variables.
func (t *tree) searched(p *mip.Problem) {
	goal, l := t.goal, newGrid(p)
	t.settled = map[int]mip.Steps{}
	t.judge = newJudge(l, goal, t.stopped)
	for _, r := range [...]**relaxer{&t.left, &t.right, &t.fixing} {
		*r = quickRelaxer(l, goal, t.stopped)
	}
}

// grow takes in limits that something has broken; false where there are none.
func (t *tree) grow() bool {
	if t.reserve == nil || !t.reserve.grow() {
		return false
	}
	t.searched(t.reserve.problem())
	if t.bls != nil {
		t.bls.vain = 0
	}
	return true
}

// whole is the problem with all of its limits.
func (t *tree) whole() *mip.Problem {
	if t.reserve != nil {
		return t.reserve.all.Problem
	}
	return t.Problem
}

type tree struct {
	ctx context.Context
	*judge
	reserve     *reserve // limits that are left out until something breaks them; nil: none are
	opt         Options
	lo, hi      mip.Steps // what is searched
	left, right *relaxer  // for halves
	fixing      *relaxer  // for dives
	grain       float64
	sloped      bool      // costs may be below zero
	gain        [][2]gain // seen when splitting each variable: down, up
	open        nodes
	serial      int
	rounds      int // boxes near whose optima points were looked for
	solves      int
	best        float64
	steps       mip.Steps
	refused     map[string]bool   // points that Accept turned down
	bls         *breakout         // breakout local search; nil: none yet
	part        bool              // a horizon of a longer chain
	ofLong      bool              // of one whose search is deep from its first box on
	deep        bool              // boxes are taken several at a time, those of one level deepest first
	firm        bool              // what was proven is made firm: see Firm
	weighed     int               // of Firm: boxes weighed without a cone program
	walkWork    int               // how many steps walks may go through
	walking     bool              // beside steps that a walk along the chain has found
	beside      bool              // of Firm: there is a point already
	near        mip.Steps         // of Firm: a point that keeps the limits, though the rows say that none does
	settled     map[int]mip.Steps // by its first block: a window that was searched to its end, with the blocks beside it
	mended      float64           // best value that the horizons were searched for
	look        int               // programs that a horizon is given; 0: none were searched yet
	shift       int               // how many blocks before others windows begin
	sought      int               // programs solved when any point was last looked for
	mending     int               // programs solved for horizons
	probed      probed            // by asking at one use
	asked       int               // programs solved when that was last asked
	stretched   stretched         // by a stretch of a very long chain
	begun       int               // programs solved otherwise before the first box of a long chain was taken
}

func (t *tree) run() Result {
	lo, hi := t.lo, t.hi
	if mip.Empty(lo, hi) {
		return Result{
			Status: Impossible, Value: math.NaN(), Bound: math.Inf(1),
			Goal: t.goal, Claim: t.claim(math.Inf(1)), Proof: &certify.Proof{},
		}
	}
	for _, s := range t.opt.Start {
		p := t.at(t.clip(s))
		t.offer(&p)
		t.polish(p, lo, hi)
	}
	whole := &node{lo: lo, hi: hi, bound: math.Inf(-1)}
	root := t.push(t.root(lo, hi), whole)
	if t.long() && len(t.open) > 0 {
		t.begin()
	}
	if t.goal.LeastUse && len(t.open) > 0 && t.lays() {
		t.byHorizon()
	}
	if math.IsInf(t.stretched.bound, 1) {
		t.open = nil // there is no point
	}
	lower := t.stretched.bound
	var walk *walked
	asked := false // whether walks leave any point
	for len(t.open) > 0 && !t.isNear() {
		if !asked && t.total() && t.steps == nil && !t.walking && t.solves >= walkAfter {
			if asked, root.Way = true, t.walkedOut(); root.Way > 0 {
				t.open = nil
				break
			}
		}
		if walk == nil && t.solves >= walkAfter && t.walks() {
			walk = t.walk(t.open[0].bound, t.grid.from, t.grid.to)
			if lower = math.Max(lower, walk.bound); t.farOff(lower) {
				t.approach(lower)
			}
		}
		if t.probes() {
			t.probe(math.Max(lower, t.open[0].bound))
			lower, t.asked = math.Max(lower, t.probed.bound), t.solves
		}
		boxes := t.take(&lower)
		if len(boxes) == 0 {
			break
		}
		if !t.advance(boxes) {
			break
		}
		t.grow()
	}
	if len(t.open) > 0 && t.sought == 0 && t.aimless() {
		t.seek(min(look, t.opt.Solves))
	}
	if walk != nil && len(t.open) > 0 && walk.bound >= lower {
		root.Way = walk.way
	}
	if s := t.stretched; s.by != nil && s.bound >= lower {
		root.Stretch = s.by
	}
	if len(t.open) > 0 && t.probed.proof != nil && t.probed.bound >= lower {
		root = t.probed.proof
	}
	return t.result(lower, root)
}

// root bounds the first box, with as many limits as its optimum breaks.
func (t *tree) root(lo, hi mip.Steps) relaxation {
	for n := 0; ; n++ {
		t.solves++
		r := t.bound(t.left, lo, hi)
		if t.breaks(r.x); n == generations || t.stopped() || !t.grow() {
			return r
		}
	}
}

// breaks has the reserve judge the optimum of a relaxation, in steps; nil: there is none.
func (t *tree) breaks(x []float64) {
	if t.reserve == nil || x == nil {
		return
	}
	rows := t.reserve.rowsAt(x)
	use := t.goal.Use
	if t.goal.LeastUse {
		use = 0
		for i := range t.Limits {
			if t.Limits[i].Shared {
				use = math.Max(use, t.reserve.all.share(t.reserve.in[i], rows))
			}
		}
	}
	t.reserve.judge(rows, math.Max(use, fineUse), broken, nil)
}

func (t *tree) result(lower float64, root *certify.Proof) Result {
	out := Result{Value: math.NaN(), Solves: t.solves, Goal: t.goal, Proof: root}
	if h := t.bls; h != nil && t.opt.Tries > 0 {
		out.Solves += h.work / TriesOfSolve
	}
	t.lengthen(root)
	if len(t.open) == 0 {
		lower = t.best // every box was dismissed: none holds anything better
	}
	out.Bound = math.Min(lower, t.best)
	if t.steps != nil {
		out.Steps, out.Value = t.steps, t.best
	}
	switch {
	case t.steps == nil && len(t.open) == 0:
		out.Status, out.Bound = Impossible, math.Inf(1)
	case t.steps != nil && lower >= t.target():
		out.Status = Least
	default:
		out.Status = Cut
	}
	if !t.goal.LeastUse && out.Bound < 0 && t.steps != nil && !t.sloped {
		out.Bound, out.Proof = 0, t.costsCount()
	}
	if t.goal.LeastUse && out.Bound < fineUse {
		// Nothing is claimed but that no use is below zero, which needs no proof:
		// the claim proven in its place is that no cost is.
		out.Bound = 0
		out.Claim = certify.Claim{Lo: t.grid.from, Hi: t.grid.to, Use: 1, Limits: t.limits()}
		out.Proof = t.costsCount()
		return out
	}
	out.Claim = t.claim(out.Bound)
	return out
}

// costsCount is the proof that no cost is below zero.
func (t *tree) costsCount() *certify.Proof {
	return &certify.Proof{Certificate: &certify.DualCertificate{Price: 1, Pull: make([]float64, len(t.constant))}}
}

// claim is what a bound says of points: none is better by more than rounding,
// or, where costs come in grains, none is better by a grain.
func (t *tree) claim(bound float64) certify.Claim {
	c := certify.Claim{Lo: t.grid.from, Hi: t.grid.to, Use: t.goal.Use, Cost: bound, Limits: t.limits()}
	if t.opt.Accept != nil {
		c.Refuses = func(s mip.Steps) bool { return !t.opt.Accept(s) }
	}
	switch {
	case t.goal.LeastUse:
		c.Use, c.Cost = math.Min(bound*(1-margin), t.goal.MostUse), t.goal.Cap
	case math.IsInf(bound, 1):
	case t.grain > 0:
		c.Cost = bound - t.grain*(1-wholeGrain/2)
	default:
		c.Cost = bound - t.rounded(bound)
	}
	return c
}

// limits are those that are searched with, by their places in the problem; nil: all.
func (t *tree) limits() []int {
	if t.reserve == nil {
		return nil
	}
	return slices.Clone(t.reserve.in)
}

// lengthen gives certificates a number for each limit that was taken in after they were made.
func (t *tree) lengthen(n *certify.Proof) {
	if t.reserve == nil || n == nil {
		return
	}
	if c := n.Certificate; c != nil && len(c.Pull) < len(t.constant) {
		c.Pull = slices.Concat(c.Pull, make([]float64, len(t.constant)-len(c.Pull)))
	}
	t.lengthen(n.Below)
	t.lengthen(n.Above)
}

const (
	// margin is the share by which a claim stays behind its bound, for rounding.
	margin = 1e-8
	// fineUse is the share of a limit that makes no difference between uses: some
	// times the tolerance of a bound.
	fineUse = 1e-5
	// wholeGrain is how far, in grains, a bound must be past a value before it
	// counts as past it.
	wholeGrain = 1e-6
)

// raise lifts a bound to the next value that a point can have.
func (t *tree) raise(bound float64) float64 {
	if t.grain == 0 || math.IsInf(bound, 0) {
		return bound
	}
	return math.Max(bound, t.grain*math.Ceil(bound/t.grain-wholeGrain))
}

// target is the bound at which the best point counts as least.
func (t *tree) target() float64 {
	if math.IsInf(t.best, 1) {
		return t.best
	}
	if t.goal.LeastUse {
		return t.best - max(t.opt.Gap*t.best, fineUse, t.opt.Near)
	}
	return t.best - max(t.opt.Gap*t.best, margin, t.opt.Near)
}

// cutoff is the value from which on a box holds nothing better than what is
// known.
func (t *tree) cutoff() float64 {
	switch {
	case math.IsInf(t.best, 1):
		return t.best
	case t.grain > 0:
		return t.best - t.grain*(1-wholeGrain)
	}
	return t.best - t.rounded(t.best)/2
}

// rounded is by how much a claim stays behind its bound, for rounding. What costs of both signs add up to may be
// far less than they are.
func (t *tree) rounded(v float64) float64 {
	if t.sloped {
		return margin * math.Max(math.Abs(v), 1)
	}
	return margin * math.Abs(v)
}

// bound bounds a box, narrowed to what single limits leave of it.
func (t *tree) bound(r *relaxer, lo, hi mip.Steps) relaxation {
	lo, hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
	if t.firm && !t.Afford(lo, hi, t.affordable()) || !t.Narrow(lo, hi, t.most(), slack) {
		return relaxation{status: socp.Infeasible, bound: math.Inf(1), lo: lo, hi: hi}
	}
	return r.solve(lo, hi, t.cutoff())
}

// most is the largest use that is still wanted.
func (t *tree) most() float64 {
	if t.goal.LeastUse {
		return math.Min(t.goal.MostUse, t.best)
	}
	return t.goal.Use
}

// push keeps a box, a part of its parent's, that may hold something better; the
// proof says why where it does not.
func (t *tree) push(r relaxation, parent *node) *certify.Proof {
	n := &node{lo: r.lo, hi: r.hi, bound: r.bound, x: r.x, proof: &certify.Proof{Certificate: r.proof}, serial: t.serial}
	t.serial++
	if r.bound < parent.bound || r.proof == nil {
		// What was known of the parent holds for its parts.
		n.bound, n.proof.Certificate = math.Max(r.bound, parent.bound), parent.certificate()
	}
	if r.status == socp.Infeasible || n.bound >= t.cutoff() {
		return n.proof
	}
	if r.nearLo != nil && n.proof.Certificate == r.proof {
		n.lo, n.hi = r.nearLo, r.nearHi
		n.proof.Lo, n.proof.Hi = append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...)
		t.Shut(n.lo, n.hi)
		if mip.Empty(n.lo, n.hi) {
			return n.proof
		}
	}
	if n.level = n.bound; t.deep {
		n.level, n.depth = t.raise(n.bound), parent.depth+1
	}
	if t.firm {
		n.loss, n.again = t.lossOf(&r), parent.again
	}
	heap.Push(&t.open, n)
	return n.proof
}

// stopped says whether the search is to end.
func (t *tree) stopped() bool { return t.ctx.Err() != nil }
