package bnb

import (
	"container/heap"
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// A node is a box that may hold something better.
type node struct {
	lo, hi mip.Steps
	bound  float64
	x      []float64 // optimum of the box without whole steps; nil: not known
	proof  *certify.Proof
	serial int
	level  float64 // what it is taken by: the bound, and once the search is deep the lowest value that a point can have
	depth  int     // splits since the search is deep
	// Of Firm alone: what the bound lost to limits being loose, how often it was bounded
	// anew in a row, and whether nothing more can be done.
	loss  float64
	again int
	done  bool
}

// nodes are a heap: the lowest level first, and of these the deepest, as values come in grains and a plan at the lowest
// of them is sooner found in small boxes than in all large ones; then the lowest bound, then the oldest.
type nodes []*node

func (n nodes) Len() int { return len(n) }
func (n nodes) Less(i, j int) bool {
	if n[i].level != n[j].level {
		return n[i].level < n[j].level
	}
	if n[i].depth != n[j].depth {
		return n[i].depth > n[j].depth
	}
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

func (n *node) certificate() *certify.DualCertificate {
	if n.proof == nil {
		return nil
	}
	return n.proof.Certificate
}

// width is how many boxes a deep search splits at a time, while it looks for points near their optima. With fewer,
// cores wait for each other for longer than they work: only every sixteenth look is thorough.
const width = 16

// early says whether a search is deep from its first box on: that of a long chain, and of parts of it. Those of a very
// long one end before that pays.
func (t *tree) early() bool {
	return t.ofLong || t.long() && !t.veryLong()
}

// deepen has early searches, and any that has become long, take several boxes at a time, of one level the deepest
// first. A short search is better off with one box, the best by all that it knows; uses come in no grains, so theirs
// stays as it is.
func (t *tree) deepen() {
	if t.deep || t.goal.LeastUse || t.solves < patience && !t.early() {
		return
	}
	t.deep = true
	for _, n := range t.open {
		n.level = t.raise(n.bound)
	}
	heap.Init(&t.open)
}

// take takes the boxes that are split next off those that are open, lowest bound first; none: the search is to end.
func (t *tree) take(lower *float64) []*node {
	t.deepen()
	*lower = math.Max(*lower, t.raise(t.open[0].bound))
	if t.ends(*lower) {
		return nil
	}
	if t.opt.Tell != nil {
		t.opt.Tell(Progress{t.goal.LeastUse, t.best, *lower, t.solves})
	}
	most := 1
	if t.deep {
		most = width
	}
	var boxes []*node
	for len(boxes) < most && len(t.open) > 0 && t.raise(t.open[0].bound) < t.target() {
		boxes = append(boxes, heap.Pop(&t.open).(*node))
	}
	return boxes
}

// roundAll looks for points near the optima of boxes.
func (t *tree) roundAll(boxes []*node) {
	for _, n := range boxes {
		if t.stopped() {
			return
		}
		t.round(n, t.rounds)
		t.rounds++
	}
}

// ends says whether a search with a lower bound is to end.
func (t *tree) ends(lower float64) bool {
	return lower >= t.target() || t.best <= t.opt.Enough && !t.sloped || t.solves >= t.opt.Solves || t.stopped()
}
