package search

import (
	"container/heap"
	"context"
	"math"
	"sync"

	"leastmove/optimize/conic"
	"leastmove/optimize/lattice"
)

// Options bound a search. Zero values mean the defaults.
type Options struct {
	Gap    float64                  // relative gap at which a plan counts as least (default 0.001)
	Solves int                      // most cone programs solved (default 20000): bounds the work, not the time
	Accept func(lattice.Steps) bool // has the last word on a point that keeps every limit; nil: all are taken
	Start  []lattice.Steps          // points to begin with
	Known  float64                  // a value that the least one is known to reach (default: none)
	Tell   func(Progress)           // called now and then; nil: not
}

// Progress is how far a search has come.
type Progress struct {
	Value, Bound float64 // best so far (+Inf: none), proven lower bound
	Solves       int
}

// A Status says how a search ended.
type Status int

const (
	Unsolved   Status = iota
	Least             // the point's value is within the gap of the bound
	Impossible        // no lattice point keeps the limits: proven
	Cut               // the work ran out; point (if any) and bound hold
)

// A Result is the best point found and what is proven.
type Result struct {
	Status Status
	Steps  lattice.Steps // nil: none found
	Value  float64       // of the point; NaN without one
	Bound  float64       // no point has a lower value; +Inf: there is no point
	Relaxd []float64     // optimum of the root without whole steps, in steps; nil: none
	Root   float64       // bound at the root
	Solves int
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
	// whole is how near, in steps, a value counts as a whole step.
	whole = 1e-3
)

// Find searches the lattice best bound first. The same problem gives the same
// result, whatever the number of cores: both halves of a split are always
// bounded, side by side, and taken in order.
func Find(ctx context.Context, p *lattice.Problem, goal lattice.Goal, opt Options) Result {
	if opt.Gap == 0 {
		opt.Gap = defaultGap
	}
	if opt.Solves == 0 {
		opt.Solves = defaultSolves
	}
	l := newGrid(p)
	t := &tree{
		judge: newJudge(l, goal), opt: opt, best: math.Inf(1), rejected: map[string]bool{},
		left: newRelaxer(l, goal), right: newRelaxer(l, goal), gain: make([][2]gain, len(p.Vars)),
	}
	if !goal.LeastUse {
		t.grain = l.grain()
	}
	return t.run(ctx)
}

type tree struct {
	*judge
	opt         Options
	left, right *relaxer
	grain       float64
	gain        [][2]gain // seen when splitting each variable: down, up
	open        nodes
	serial      int
	solves      int
	best        float64
	steps       lattice.Steps
	rejected    map[string]bool // points that Accept turned down
}

// gain is how much bounds rose per step of distance.
type gain struct {
	sum   float64
	count int
}

type node struct {
	lo, hi lattice.Steps
	bound  float64
	x      []float64
	serial int
}

type nodes []*node

func (n nodes) Len() int { return len(n) }
func (n nodes) Less(i, j int) bool {
	if n[i].bound != n[j].bound {
		return n[i].bound < n[j].bound
	}
	return n[i].serial < n[j].serial
}
func (n nodes) Swap(i, j int) { n[i], n[j] = n[j], n[i] }
func (n *nodes) Push(x any)   { *n = append(*n, x.(*node)) }
func (n *nodes) Pop() any {
	last := (*n)[len(*n)-1]
	*n = (*n)[:len(*n)-1]
	return last
}

func (t *tree) run(ctx context.Context) Result {
	out := Result{Value: math.NaN(), Bound: math.Inf(-1), Root: math.Inf(-1)}
	for j := range t.Vars {
		if t.lo[j] > t.hi[j] {
			out.Status, out.Bound = Impossible, math.Inf(1)
			return out
		}
	}
	for _, s := range t.opt.Start {
		p := t.at(t.clip(s))
		t.offer(&p)
		t.polish(p, t.grid.lo, t.grid.hi)
	}
	root := t.bound(t.left, t.grid.lo, t.grid.hi)
	t.solves++
	if root.bound > t.opt.Known || t.opt.Known == 0 {
		out.Root = root.bound
	}
	out.Relaxd = root.x
	t.push(root, t.grid.lo, t.grid.hi)
	lower := root.bound
	for rounds := 0; len(t.open) > 0; rounds++ {
		n := heap.Pop(&t.open).(*node)
		lower = math.Max(lower, t.raise(n.bound))
		if lower >= t.target() {
			heap.Push(&t.open, n)
			break
		}
		if t.solves >= t.opt.Solves || ctx.Err() != nil {
			heap.Push(&t.open, n)
			break
		}
		if t.opt.Tell != nil {
			t.opt.Tell(Progress{t.best, lower, t.solves})
		}
		t.round(n)
		if rounds%64 == 0 || math.IsInf(t.best, 1) && rounds%4 == 0 {
			t.dive(n)
		}
		t.split(n)
	}
	return t.result(out, lower)
}

func (t *tree) result(out Result, lower float64) Result {
	out.Solves = t.solves
	if len(t.open) == 0 {
		lower = math.Max(lower, t.best) // every box was dismissed: none holds anything better
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
	return out
}

// raise lifts a bound to the next value that a point can have.
func (t *tree) raise(bound float64) float64 {
	if t.grain == 0 || math.IsInf(bound, 0) {
		return bound
	}
	return math.Max(bound, t.grain*math.Ceil(bound/t.grain-1e-6))
}

// target is the bound at which the best point counts as least.
func (t *tree) target() float64 {
	if math.IsInf(t.best, 1) {
		return t.best
	}
	return t.best - math.Max(t.opt.Gap*math.Abs(t.best), 1e-9)
}

// cutoff is the value from which on a box holds nothing better than what is
// known.
func (t *tree) cutoff() float64 {
	if math.IsInf(t.best, 1) {
		return t.best
	}
	if t.grain > 0 {
		return t.best - t.grain*(1-1e-6)
	}
	return t.best - 1e-9
}

func (t *tree) bound(r *relaxer, lo, hi lattice.Steps) relaxation { return r.solve(lo, hi, t.cutoff()) }

// push keeps a box that may hold something better.
func (t *tree) push(r relaxation, lo, hi lattice.Steps) {
	if r.status == conic.Infeasible || r.bound >= t.cutoff() {
		return
	}
	n := &node{lo: lo, hi: hi, bound: r.bound, x: r.x, serial: t.serial}
	if r.lo != nil {
		n.lo, n.hi = r.lo, r.hi
		for j := range n.lo {
			if n.lo[j] > n.hi[j] {
				return
			}
		}
	}
	t.serial++
	heap.Push(&t.open, n)
}

// split halves a box at the variable that promises the most and bounds both
// halves, side by side.
func (t *tree) split(n *node) {
	j, at := t.choose(n)
	if j < 0 {
		return // a single point, judged already
	}
	l, r := t.halves(n, j, at)
	t.learn(n, j, at, l, r)
	down, up := append(lattice.Steps(nil), n.hi...), append(lattice.Steps(nil), n.lo...)
	down[j], up[j] = at, at+1
	t.keep(l, n, n.lo, down)
	t.keep(r, n, up, n.hi)
}

func (t *tree) keep(r relaxation, parent *node, lo, hi lattice.Steps) {
	r.bound = math.Max(r.bound, parent.bound)
	t.push(r, lo, hi)
}

// halves bounds the boxes below and above a split.
func (t *tree) halves(n *node, j, at int) (l, r relaxation) {
	down, up := append(lattice.Steps(nil), n.hi...), append(lattice.Steps(nil), n.lo...)
	down[j], up[j] = at, at+1
	var wait sync.WaitGroup
	wait.Go(func() { r = t.bound(t.right, up, n.hi) })
	l = t.bound(t.left, n.lo, down)
	wait.Wait()
	t.solves += 2
	return l, r
}

// learn notes how much the bounds rose.
func (t *tree) learn(n *node, j, at int, l, r relaxation) {
	if n.x == nil {
		return
	}
	for side, rel := range [2]relaxation{l, r} {
		distance := n.x[j] - float64(at)
		if side == 1 {
			distance = 1 - distance
		}
		if distance < whole || math.IsInf(rel.bound, 0) {
			continue
		}
		t.gain[j][side].sum += math.Max(0, rel.bound-n.bound) / distance
		t.gain[j][side].count++
	}
}

// choose picks the variable to split and where: the fractional one whose two
// halves promise the greatest rise of the bound, by what was seen before and,
// where nothing was seen yet, by trying.
func (t *tree) choose(n *node) (j, at int) {
	if n.x != nil {
		best, bestScore := -1, -1.0
		tried := 0
		for k, x := range n.x {
			below := math.Floor(x)
			f := x - below
			if f < whole || f > 1-whole || n.lo[k] == n.hi[k] {
				continue
			}
			if (t.gain[k][0].count == 0 || t.gain[k][1].count == 0) && tried < 4 {
				tried++
				l, r := t.halves(n, k, int(below))
				t.learn(n, k, int(below), l, r)
				if math.IsInf(l.bound, 1) || math.IsInf(r.bound, 1) {
					return k, int(below)
				}
			}
			score := t.promise(k, 0, f) * t.promise(k, 1, 1-f)
			if score > bestScore {
				best, bestScore = k, score
			}
		}
		if best >= 0 {
			return best, int(math.Floor(n.x[best]))
		}
	}
	// All whole, yet the point was not taken: halve the widest side.
	j = -1
	for k := range n.lo {
		if n.hi[k] > n.lo[k] && (j < 0 || n.hi[k]-n.lo[k] > n.hi[j]-n.lo[j]) {
			j = k
		}
	}
	if j < 0 {
		return -1, 0
	}
	at = n.lo[j] + (n.hi[j]-n.lo[j])/2
	if n.hi[j] == n.lo[j]+1 {
		at = n.lo[j]
	}
	if n.x != nil {
		at = min(max(int(math.Round(n.x[j])), n.lo[j]), n.hi[j]-1)
	}
	return j, at
}

// promise is the expected rise of the bound.
func (t *tree) promise(j, side int, distance float64) float64 {
	g := t.gain[j][side]
	mean := t.Vars[j].Weight * t.Vars[j].Step * 0.5
	if g.count > 0 {
		mean = g.sum / float64(g.count)
	}
	return math.Max(1e-6, mean*distance)
}

// round looks for a point near a box's optimum.
func (t *tree) round(n *node) {
	if n.x == nil {
		return
	}
	s := make(lattice.Steps, len(n.x))
	for j, x := range n.x {
		s[j] = min(max(int(math.Round(x)), n.lo[j]), n.hi[j])
	}
	p := t.at(s)
	t.offer(&p)
	t.polish(p, n.lo, n.hi)
}

// polish walks downhill from a point, within the box it came from and then
// anywhere.
func (t *tree) polish(p point, lo, hi lattice.Steps) {
	w := t.walk(p, lo, hi)
	w.down()
	t.offer(&w.point)
	w.lo, w.hi = t.grid.lo, t.grid.hi
	w.down()
	t.offer(&w.point)
}

// offer takes a point that is better than the best so far.
func (t *tree) offer(p *point) {
	v := t.value(p)
	if v > t.best || v == t.best && (t.steps == nil || t.squares(p.steps) >= t.squares(t.steps)) {
		return
	}
	if t.opt.Accept != nil {
		key := p.steps.Key()
		if t.rejected[key] {
			return
		}
		if !t.opt.Accept(p.steps) {
			t.rejected[key] = true
			return
		}
	}
	t.best, t.steps = v, append(lattice.Steps(nil), p.steps...)
}

// clip brings a point into the box.
func (t *tree) clip(s lattice.Steps) lattice.Steps {
	out := append(lattice.Steps(nil), s...)
	for j := range out {
		out[j] = min(max(out[j], t.grid.lo[j]), t.grid.hi[j])
	}
	return out
}

// dive fixes variables one after another at whole steps, those nearest to one
// first, solving anew in between, until a point is reached or none is left.
func (t *tree) dive(n *node) {
	lo, hi, x := append(lattice.Steps(nil), n.lo...), append(lattice.Steps(nil), n.hi...), n.x
	for x != nil && t.solves < t.opt.Solves {
		fixed, left := 0, 0
		nearest, distance := -1, 1.0
		for j := range x {
			if lo[j] == hi[j] {
				continue
			}
			r := math.Round(x[j])
			if d := math.Abs(x[j] - r); d < whole {
				k := min(max(int(r), lo[j]), hi[j])
				lo[j], hi[j] = k, k
				fixed++
			} else {
				left++
				if d < distance {
					nearest, distance = j, d
				}
			}
		}
		if left == 0 {
			p := t.at(lo)
			t.offer(&p)
			t.polish(p, t.grid.lo, t.grid.hi)
			return
		}
		k := min(max(int(math.Round(x[nearest])), lo[nearest]), hi[nearest])
		lo[nearest], hi[nearest] = k, k
		r := t.bound(t.left, lo, hi)
		t.solves++
		x = r.x
	}
}
