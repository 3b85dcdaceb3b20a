package bnb

import (
	"math"
	"sync"

	"leastmove/optimize/mip"
)

// whole is how near, in steps, a value counts as a whole step.
const whole = 1e-3

// A split is a variable, where to halve a box by it, and what is known of the
// halves.
type split struct {
	variable     int // -1: the box is a single point
	at           int // the lower half has x ≤ at, the upper one x ≥ at + 1
	bounded      bool
	below, above relaxation
}

// boxes are the lower end of the upper half and the upper end of the lower one.
func (t *tree) boxes(n *node, s *split) (lo, hi mip.Steps) {
	lo, hi = append(mip.Steps(nil), n.lo...), append(mip.Steps(nil), n.hi...)
	j := s.variable
	lo[j], hi[j] = s.at+1, s.at
	return lo, hi
}

// halves bounds both halves: side by side where the scout is alone.
func (c *scout) halves(n *node, s *split) {
	lo, hi := c.boxes(n, s)
	if c.beside == nil {
		s.below, s.above = c.bound(c.relaxer, n.lo, hi), c.bound(c.relaxer, lo, n.hi)
	} else {
		var wait sync.WaitGroup
		wait.Go(func() { s.above = c.bound(c.beside, lo, n.hi) })
		s.below = c.bound(c.relaxer, n.lo, hi)
		wait.Wait()
	}
	s.bounded = true
	c.spent += 2
}

// trials is how many variables that were never split are tried before one is
// chosen.
const trials = 8

// choose picks the variable to split and where: one that is far between two
// coarse steps; else the one whose two halves promise the greatest rise of the
// bound, by what was seen before and, where nothing was seen yet, by trying.
func (c *scout) choose(n *node) split {
	best, bestScore, tried := split{variable: -1}, -1.0, 0
	if s := c.coarsest(n); s.variable >= 0 && !c.goal.LeastUse {
		return s
	}
	for j, x := range n.x {
		at, f := c.between(j, x)
		if f < whole || f > 1-whole || n.lo[j] == n.hi[j] {
			continue
		}
		s := split{variable: j, at: at}
		if (c.gain[j][0].count == 0 || c.gain[j][1].count == 0) && tried < trials && !c.stopped() {
			tried++
			c.halves(n, &s)
			if math.IsInf(s.below.bound, 1) || math.IsInf(s.above.bound, 1) {
				return s // one half is empty: nothing better to do
			}
			c.learn(n, &s)
		}
		score := c.promise(j, 0, f) * c.promise(j, 1, 1-f)
		if score > bestScore {
			best, bestScore = s, score
		}
	}
	if best.variable >= 0 {
		return best
	}
	if s := c.splitUnmoved(n); s.variable >= 0 {
		return s
	}
	return c.widest(n)
}

// rough is the share of a limit from which on being between two steps counts for
// more than what the bound can be raised by.
const rough = 0.3

// coarsest is the variable whose value between two steps stands for the largest
// share of a limit: where limits are narrower than a step, the two halves have
// little in common, and most of what follows is settled by it.
func (t *tree) coarsest(n *node) split {
	s, most := split{variable: -1}, rough
	for j, x := range n.x {
		at, f := t.between(j, x)
		share := math.Min(f, 1-f) * t.coarse[j]
		if v := &t.Vars[j]; v.Only != nil {
			below, above := v.Around(x)
			share *= float64(above - below)
		}
		if share > most && n.lo[j] < n.hi[j] {
			s, most = split{variable: j, at: at}, share
		}
	}
	return s
}

// between is where to split a value that is not a point's, and how far between
// the two points beside it the value lies.
func (t *tree) between(j int, x float64) (at int, f float64) {
	below, above := t.Vars[j].Around(x)
	return below, (x - float64(below)) / float64(above-below)
}

// splitUnmoved serves where all values are whole, but a block moves whose fixed cost
// the bound does not have: it splits the block's largest variable off zero.
func (t *tree) splitUnmoved(n *node) split {
	s := split{variable: -1}
	if len(t.FixedCost) == 0 || t.goal.LeastUse || n.x == nil {
		return s
	}
	most := whole
	for b := range t.FixedCost {
		if t.moved(b, n.lo, n.hi) {
			continue
		}
		for j := t.first[b]; j < t.first[b+1]; j++ {
			if cost := math.Abs(n.x[j]) * t.Vars[j].Step * t.Vars[j].Weight; cost > most {
				most, s.variable, s.at = cost, j, 0
				if n.x[j] < 0 {
					s.at = -1
				}
			}
		}
	}
	return s
}

// widest serves where all values are whole and yet the point was not taken: it
// halves the longest side of the box.
func (t *tree) widest(n *node) split {
	s := split{variable: -1}
	for j := range n.lo {
		if n.hi[j] > n.lo[j] && (s.variable < 0 || n.hi[j]-n.lo[j] > n.hi[s.variable]-n.lo[s.variable]) {
			s.variable = j
		}
	}
	if j := s.variable; j >= 0 {
		s.at = n.lo[j] + (n.hi[j]-n.lo[j]-1)/2
		if n.x != nil {
			s.at = min(max(int(math.Round(n.x[j])), n.lo[j]), n.hi[j]-1)
		}
	}
	return s
}

// promise is the expected rise of the bound.
func (c *scout) promise(j, side int, distance float64) float64 {
	g := c.gain[j][side]
	mean := c.Vars[j].Weight * c.Vars[j].Step * 0.5
	if g.count > 0 {
		mean = g.sum / float64(g.count)
	}
	return math.Max(1e-6, mean*distance)
}
