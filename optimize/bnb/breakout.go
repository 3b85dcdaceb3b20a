package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// A breakout looks for a point that keeps all limits where few do. It goes downhill
// on what limits are exceeded by, each with a weight of its own; where no
// neighbour leads further down, the limits still exceeded gain weight, until the
// relaxation of the hollow leads down too (Morris 1993 calls it breakout).
type breakout struct {
	*judge
	all  []neighbour
	of   [][]int // neighbours that change each limit
	use  float64 // share of the shared limits to keep
	most float64 // cost to keep

	steps   mip.Steps
	rows    []float64
	set     []int     // variables other than 0 in each block
	cost    float64   // of the steps
	excess  []float64 // what each limit is exceeded by, in shares
	over    int       // limits exceeded
	weight  []float64 // of each limit
	burden  float64   // what all limits are exceeded by, weighed: no neighbour takes off more
	penalty float64   // weight of the cost above the most
	trim    []float64 // share by which each limit is kept better

	stopped     bool  // the search is to end
	begun, work int   // starts, and neighbours tried
	vain        int   // starts in a row that led to nothing better than a point that is known
	sweeps      int   // made so far
	swept       []int // last sweep that tried each neighbour
}

func newBreakout(j *judge) *breakout {
	h := &breakout{
		judge: j, all: j.neighbourhood(), of: make([][]int, len(j.Limits)),
		excess: make([]float64, len(j.Limits)), weight: make([]float64, len(j.Limits)), trim: make([]float64, len(j.Limits)),
	}
	for k := range h.all {
		for _, m := range h.all[k].image {
			h.of[m.limit] = append(h.of[m.limit], k)
		}
	}
	h.swept = make([]int, len(h.all))
	return h
}

// begin starts from a point.
func (h *breakout) begin(s mip.Steps) {
	h.begun++
	h.steps = append(mip.Steps(nil), s...)
	clear(h.trim)
	for i := range h.weight {
		h.weight[i] = 1
	}
	h.penalty = 1
	h.afresh()
}

// afresh works out all that is kept beside the steps.
func (h *breakout) afresh() {
	p := h.at(h.steps)
	h.rows = p.rows
	h.cost = h.judge.cost(h.steps)
	h.set = make([]int, len(h.first)-1)
	for k, n := range h.steps {
		if n != 0 {
			h.set[h.Vars[k].Block]++
		}
	}
	h.over = 0
	for i := range h.excess {
		h.excess[i] = h.past(i, [3]float64{}, 0)
		if h.excess[i] > 0 {
			h.over++
		}
	}
	h.weighBurden()
}

// weighBurden works out the burden.
func (h *breakout) weighBurden() {
	h.burden = 0
	for i, e := range h.excess {
		h.burden += h.weight[i] * e
	}
}

// past is how far limit i is exceeded, in shares, with a change of its rows.
func (h *breakout) past(i int, by [3]float64, sign float64) float64 {
	rows := h.rows[h.rowStart[i]:h.rowStart[i+1]]
	var square float64
	for k, r := range rows {
		r += sign * by[k]
		square += r * r
	}
	share := 1.0
	if h.Limits[i].Shared {
		share = h.use
	}
	// Of a small use less may be left than what is trimmed: a little of it stays.
	radius := h.Limits[i].Radius * math.Max(share-h.trim[i], leastLeft*share)
	if square <= radius*radius {
		return 0
	}
	return math.Sqrt(square)/radius - 1
}

// added is what a neighbour adds to the cost; false where the box or a bar
// forbids it.
func (h *breakout) added(e *neighbour, sign int) (float64, bool) {
	var sum float64
	for k, j := range e.vars {
		v := &h.Vars[j]
		n := h.steps[j]
		next := n + sign*e.by[k]
		if next < h.lo[j] || next > h.hi[j] {
			return 0, false
		}
		if open := h.open[j]; open != nil {
			if !open[next-h.lo[j]] {
				return 0, false
			}
		} else if next != 0 && next < v.Least && -next < v.Least {
			return 0, false
		}
		sum += v.Weight*v.Step*float64(max(next, -next)-max(n, -n)) + v.Slope*v.Step*float64(next-n)
		if len(h.FixedCost) > 0 {
			switch {
			case n == 0 && next != 0 && h.set[v.Block] == 0:
				sum += h.FixedCost[v.Block]
			case n != 0 && next == 0 && h.set[v.Block] == 1:
				sum -= h.FixedCost[v.Block]
			}
		}
	}
	return sum, true
}

// tie is the weight of the cost below the most.
const tie = 1e-3

// price is what a cost adds to what goes downhill.
func (h *breakout) price(cost float64) float64 {
	if math.IsInf(h.most, 1) {
		return 0
	}
	return tie*cost/h.most + h.penalty*math.Max(0, cost/h.most-1)
}

// try takes a neighbour if it leads downhill.
func (h *breakout) try(e *neighbour, sign int) bool {
	if h.work++; h.work%looks == 0 {
		h.stopped = h.ended()
	}
	if h.stopped {
		return false
	}
	added, ok := h.added(e, sign)
	if !ok {
		return false
	}
	change, burden := h.price(h.cost+added)-h.price(h.cost), h.burden
	for _, m := range e.image {
		if change-burden > -leastGain {
			return false // whatever the other limits do
		}
		w, was := h.weight[m.limit], h.excess[m.limit]
		change += w * (h.past(m.limit, m.rows, float64(sign)) - was)
		burden -= w * was
	}
	if change > -leastGain {
		return false
	}
	h.take(e, sign)
	return true
}

// take takes a neighbour.
func (h *breakout) take(e *neighbour, sign int) {
	for k, j := range e.vars {
		b := h.Vars[j].Block
		if h.steps[j] != 0 {
			h.set[b]--
		}
		h.steps[j] += sign * e.by[k]
		if h.steps[j] != 0 {
			h.set[b]++
		}
	}
	h.cost = h.judge.cost(h.steps)
	for _, m := range e.image {
		i := m.limit
		for k := range h.rowStart[i+1] - h.rowStart[i] {
			h.rows[h.rowStart[i]+k] += float64(sign) * m.rows[k]
		}
		was := h.excess[i] > 0
		h.excess[i] = h.past(i, [3]float64{}, 0)
		switch is := h.excess[i] > 0; {
		case is && !was:
			h.over++
		case was && !is:
			h.over--
		}
	}
	h.weighBurden()
}

// sweep tries what changes the limits that are exceeded, or everything where
// none is.
func (h *breakout) sweep() bool {
	improved := false
	if h.over == 0 {
		for k := range h.all {
			improved = h.both(k) || improved
			if h.stopped {
				break
			}
		}
		return improved
	}
	h.sweeps++
	for i := range h.excess {
		if h.excess[i] == 0 {
			continue
		}
		if h.stopped {
			break
		}
		for _, k := range h.of[i] {
			if h.swept[k] != h.sweeps {
				h.swept[k] = h.sweeps
				improved = h.both(k) || improved
			}
		}
	}
	return improved
}

// both tries a neighbour forwards and backwards, as often as it leads down.
func (h *breakout) both(k int) bool {
	improved := false
	for _, sign := range [2]int{1, -1} {
		for h.try(&h.all[k], sign) {
			improved = true
		}
	}
	return improved
}

// next goes on to the next point that keeps the limits and the cost; false
// where the work runs out before.
func (h *breakout) next(work int) bool {
	for end := h.work + work; h.work < end; {
		before := h.work
		improved := h.sweep()
		if h.stopped {
			return false
		}
		if improved {
			continue
		}
		if h.over == 0 {
			h.afresh()
		}
		if h.over == 0 && h.cost <= h.most*(1+slack) {
			return true
		}
		if h.work == before {
			return false // no neighbour changes what is exceeded
		}
		for i, e := range h.excess {
			if e > 0 {
				h.weight[i]++
			}
		}
		h.weighBurden()
		if h.cost > h.most {
			h.penalty++
		}
	}
	return false
}

// stint is how many tries the breakout has to the next point.
func (t *tree) stint() int {
	if t.opt.Tries == 0 || t.solves >= patience {
		return stint
	}
	return min(stint, t.opt.Tries-t.bls.work)
}

// learn trims the limits; false where that changes nothing.
func (h *breakout) learn(adds []float64) bool {
	changed := false
	for i, a := range adds {
		if a > h.trim[i] {
			h.trim[i], changed = a, true
		}
	}
	return changed
}

const (
	// leastLeft is the share of what a limit may use that trimming leaves at least.
	leastLeft = 0.01
	// patience is how many programs are solved before the first breakout: most trains
	// are done by then.
	patience = 500
	// triesPerSolve keeps the breakouts to a part of the work: a try takes about as long as
	// a thousandth of a cone program, or a two-hundredth of one by tangents.
	triesPerSolve = 75
	// enough is how many starts in vain make further breakouts half as much of the work.
	enough = 4
	// stint is how many tries a breakout has from one point to the next.
	stint = 100000
	// gained is how much better, as a share, the next point is asked to be.
	gained = 0.005
)

// breakout looks for better points near a box's, where the search has long been
// without one that is good enough.
func (t *tree) breakout(s mip.Steps, bound float64) {
	if t.solves < patience && t.opt.Tries == 0 || t.best-bound < gained*t.best {
		return
	}
	if h := t.bls; h != nil && h.work > max(t.opt.Tries, triesPerSolve*t.solves*enough/(enough+h.vain)) {
		return
	}
	h := t.breakouts()
	target := t.best - math.Max(t.best*gained, t.grain)
	if math.IsInf(t.best, 1) {
		target = t.goal.MostUse
		if !t.goal.LeastUse {
			// What the bound will come to is not known: nearer and farther, in turn.
			target = bound * [4]float64{1.1, 1.3, 2, 8}[h.begun%4]
		}
	}
	before := t.best
	t.follow(s, target)
	switch h = t.bls; {
	case t.best < before:
		h.vain = 0
	case t.steps != nil:
		h.vain++
	}
}

// breakouts is the breakout search of the limits as they are by now.
func (t *tree) breakouts() *breakout {
	if h := t.bls; h == nil || h.judge != t.judge {
		t.bls = newBreakout(t.judge)
		if h != nil {
			t.bls.begun, t.bls.work, t.bls.vain = h.begun, h.work, h.vain
		}
	}
	return t.bls
}

// TriesOfSolve is how many tries of a breakout take about as long as a cone program.
const TriesOfSolve = 1000

// follow looks from a start, for ever better points as long as they come.
// Limits that use more than their rows say, where a point was turned down,
// are kept so much the better.
func (t *tree) follow(s mip.Steps, target float64) {
	h := t.bls
	t.aim(target)
	h.begin(s)
	for !t.stopped() && h.next(t.stint()) {
		p := t.at(h.steps)
		v := t.value(&p)
		if v > h.aimed()*(1+1e-6) {
			return // within rounding of a limit
		}
		if t.reserve != nil && t.ofAll(p.steps, v) != v && t.grow() {
			// It breaks limits that were left out: on from there with those.
			steps := h.steps
			h = t.breakouts()
			t.aim(target)
			h.begin(steps)
			continue
		}
		if refused := t.offer(&p); !refused {
			t.aim(v - math.Max(v*gained, t.grain))
		} else if t.opt.Adds == nil || !h.learn(t.adds(h.steps)) {
			return
		}
		h.afresh()
	}
}

// adds is what Options.Adds says of the limits that are searched with.
func (t *tree) adds(s mip.Steps) []float64 {
	all := t.opt.Adds(s)
	if t.reserve == nil {
		return all
	}
	out := make([]float64, len(t.Limits))
	for n, i := range t.reserve.in {
		out[n] = all[i]
	}
	return out
}

// aimed is the value that the breakout is to reach.
func (h *breakout) aimed() float64 {
	if h.goal.LeastUse {
		return h.use
	}
	return h.most
}

// aim sets the value that the breakout is to reach.
func (t *tree) aim(v float64) {
	h := t.bls
	if t.goal.LeastUse {
		h.use, h.most = v, t.goal.Cap
	} else {
		h.use, h.most = t.goal.Use, v
	}
}
