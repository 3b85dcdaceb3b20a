package bnb

import (
	"container/heap"
	"math"
	"slices"
	"sync"
	"sync/atomic"
)

// A scout chooses where to split a box and bounds the halves, with memory of its own: scouts work side by side, each on
// a box of its own, and know of each other only what the tree knew before. So what they find hangs neither on the
// number of cores nor on which of them is first.
type scout struct {
	*tree
	relaxer, beside *relaxer  // beside serves a second half at the same time; nil: one after the other
	gain            [][2]gain // of the tree, and of this box
	lessons         []lesson  // what this box adds to it, in order
	spent           int       // programs solved for this box
}

// gain is how much bounds rose per step of distance when a variable was split.
type gain struct {
	sum   float64
	count int
}

func (g *gain) add(rise float64) {
	g.sum += rise
	g.count++
}

// A lesson is how much a bound rose per step of distance when a variable was split, on one side.
type lesson struct {
	variable, side int
	rise           float64
}

// learn notes how much the bounds rose. A half that was dismissed stopped rising
// at the cutoff, so it is credited with twice the way there.
func (c *scout) learn(n *node, s *split) {
	if n.x == nil {
		return
	}
	_, below := c.between(s.variable, n.x[s.variable])
	for side, distance := range [2]float64{below, 1 - below} {
		bound := [2]float64{s.below.bound, s.above.bound}[side]
		if distance < whole {
			continue
		}
		if most := c.cutoff(); bound >= most {
			if math.IsInf(most, 1) {
				continue
			}
			bound = most + (most - n.bound)
		}
		l := lesson{s.variable, side, math.Max(0, bound-n.bound) / distance}
		c.gain[l.variable][l.side].add(l.rise)
		c.lessons = append(c.lessons, l)
	}
}

// alone is a scout that has both relaxers.
func (t *tree) alone() *scout {
	return &scout{tree: t, relaxer: t.left, beside: t.right, gain: slices.Clone(t.gain)}
}

// taught takes what a scout has learnt and spent.
func (t *tree) taught(c *scout) {
	for _, l := range c.lessons {
		t.gain[l.variable][l.side].add(l.rise)
	}
	t.solves += c.spent
}

// scouted chooses where to split a box and bounds the halves.
func (c *scout) scouted(n *node) split {
	s := c.choose(n)
	if s.variable >= 0 {
		if !s.bounded {
			c.halves(n, &s)
		}
		c.learn(n, &s)
	}
	return s
}

// advance looks for points near the optima of boxes and splits them: a single one by what was found, several at the
// same time by what was known before. It returns false where the search is to end.
func (t *tree) advance(boxes []*node) bool {
	if len(boxes) == 1 {
		if t.roundAll(boxes); t.rests() {
			heap.Push(&t.open, boxes[0])
			return false
		}
		scout := t.alone()
		s := scout.scouted(boxes[0])
		t.taken(boxes[0], scout, &s)
		return true
	}
	// Scouts see the search as it is now, whatever is found meanwhile.
	now := *t
	splits, scouts := make([]split, len(boxes)), make([]*scout, len(boxes))
	var wait sync.WaitGroup
	for k, r := range [...]*relaxer{t.left, t.right} {
		wait.Go(func() {
			for i := k; i < len(boxes) && !now.stopped(); i += 2 {
				scouts[i] = &scout{tree: &now, relaxer: r, gain: slices.Clone(now.gain)}
				splits[i] = scouts[i].scouted(boxes[i])
			}
		})
	}
	t.roundAll(boxes)
	wait.Wait()
	for i, n := range boxes {
		if scouts[i] == nil { // the search was ended before
			heap.Push(&t.open, n)
			continue
		}
		t.taken(n, scouts[i], &splits[i])
	}
	return !t.rests()
}

// taken takes what a scout found of a box, and keeps its halves.
func (t *tree) taken(n *node, c *scout, s *split) {
	t.taught(c)
	if s.variable < 0 {
		return // a single point, judged already
	}
	n.proof.Var, n.proof.At = s.variable, s.at
	n.proof.Below, n.proof.Above = t.push(s.below, n), t.push(s.above, n)
}

// sideBySide does n things that know nothing of each other, two at a time.
func sideBySide(n int, do func(int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range 2 {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	wait.Wait()
}
