package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// A judge puts numbers on points for one goal, so that the local search and the tree
// can treat both goals alike.
type judge struct {
	*grid
	goal   mip.Goal
	ended  func() bool // whether local searches are to end
	near   [][]int     // of each variable: the later ones in its own block or the next
	usual  float64     // share of the shared limits that is about what there is
	runs   []run       // of least cost
	coarse []float64   // of each variable: the largest share of a limit that one step uses
	// What neighbour works in: images, and of each limit the number of its image; 0: none.
	images  []image
	imageOf []int
}

func newJudge(l *grid, goal mip.Goal, ended func() bool) *judge {
	j := &judge{grid: l, goal: goal, ended: ended, near: make([][]int, len(l.Vars)), usual: goal.Use,
		coarse: make([]float64, len(l.Vars))}
	if goal.LeastUse {
		j.usual = math.Min(1, goal.MostUse)
	} else {
		j.runs = newRuns(l)
	}
	for a := range l.Vars {
		j.coarse[a] = j.onto([]int{a}, []int{1})
		for b := a + 1; b < len(l.Vars) && l.Vars[b].Block <= l.Vars[a].Block+1; b++ {
			j.near[a] = append(j.near[a], b)
		}
	}
	return j
}

// value is what the goal minimises; +Inf where the point breaks a limit.
func (j *judge) value(p *point) float64 {
	use := j.use(p)
	switch {
	case j.barred(p.steps):
		return math.Inf(1)
	case j.goal.LeastUse && (use > j.goal.MostUse || j.cost(p.steps) > j.goal.Cap*(1+slack)):
		return math.Inf(1)
	case j.goal.LeastUse:
		return use
	case use > j.goal.Use*(1+2*slack):
		return math.Inf(1)
	}
	return j.cost(p.steps)
}

// barred says whether a value is where its variable may not be.
func (j *judge) barred(s mip.Steps) bool {
	for k, n := range s {
		if j.Vars[k].Bars(n) {
			return true
		}
	}
	return false
}

// A local search takes a point downhill: first to where the limits hold, then down the
// goal, by exchanging one or two steps at a time. It keeps the share of every
// limit beside the point, so that trying a step costs only the limits that the
// step touches. Steps and pairs are tried in their order, pairs within
// neighbouring blocks: the local search is the same each time.
type localSearch struct {
	*judge
	point
	lo, hi mip.Steps
	shares []float64 // of each limit
	past   []float64 // what each limit is exceeded by, in shares
	worst  []float64 // largest of each bunch of shared limits; below 0: to be worked out
	set    []int     // variables other than 0 in each block
	cost   float64
	over   float64 // sum of what limits are exceeded by
	best   float64 // score of the point
	left   int     // neighbours that it may still try
}

// tries is how many neighbours a local search tries at most for each of its variables. One sweep
// over all pairs takes a hundred; where hardly anything is limited a local search may go on step by
// step for as far as a foot may be moved.
const tries = 1000

// bunch is how many limits in a row are asked for their largest share at once.
const bunch = 32

// looks is how many neighbours are tried between two looks at whether to end.
const looks = 256

// penalty weighs what limits are exceeded by against the goal.
const penalty = 100

func (j *judge) localSearch(p point, lo, hi mip.Steps) *localSearch {
	w := &localSearch{judge: j, point: p, lo: lo, hi: hi, shares: make([]float64, len(j.Limits)),
		past: make([]float64, len(j.Limits)), worst: make([]float64, (len(j.Limits)+bunch-1)/bunch),
		left: tries * len(j.Vars)}
	w.afresh()
	w.set = make([]int, len(j.first)-1)
	for k, n := range p.steps {
		if n != 0 {
			w.set[j.Vars[k].Block]++
		}
	}
	w.best = w.score()
	return w
}

// excess is how far limit i is exceeded, in shares.
func (w *localSearch) excess(i int) float64 {
	s := w.shares[i]
	if w.Limits[i].Shared {
		if w.goal.LeastUse {
			return 0
		}
		s /= w.goal.Use
	}
	if s <= 1+slack {
		return 0
	}
	return s - 1 - slack
}

func (w *localSearch) score() float64 {
	if !w.goal.LeastUse {
		return w.cost + penalty*w.over
	}
	var worst float64
	for b := range w.worst {
		if w.worst[b] < 0 {
			w.worst[b] = w.worstOf(b)
		}
		worst = math.Max(worst, w.worst[b])
	}
	return worst + penalty*(w.over+math.Max(0, w.cost/w.goal.Cap-1-slack))
}

// worstOf is the largest share of the shared limits of a bunch.
func (w *localSearch) worstOf(b int) float64 {
	var worst float64
	for i := b * bunch; i < min((b+1)*bunch, len(w.shares)); i++ {
		if w.Limits[i].Shared {
			worst = math.Max(worst, w.shares[i])
		}
	}
	return worst
}

// move takes variable a n steps further.
func (w *localSearch) move(a, n int) {
	v := &w.Vars[a]
	before := w.steps[a]
	w.step(&w.point, a, n)
	w.cost += v.Weight*v.Step*(math.Abs(float64(before+n))-math.Abs(float64(before))) + v.Slope*v.Step*float64(n)
	switch {
	case before == 0:
		w.countMoved(v.Block, 1)
	case before+n == 0:
		w.countMoved(v.Block, -1)
	}
	for _, i := range w.limitsOf[a] {
		w.over -= w.past[i]
		w.shares[i], w.worst[i/bunch] = w.share(i, w.rows), -1
		w.past[i] = w.excess(i)
		w.over += w.past[i]
	}
}

// countMoved counts the variables of a block that are set.
func (w *localSearch) countMoved(block, n int) {
	before := w.set[block]
	w.set[block] += n
	if len(w.FixedCost) > 0 {
		switch {
		case before == 0:
			w.cost += w.FixedCost[block]
		case w.set[block] == 0:
			w.cost -= w.FixedCost[block]
		}
	}
}

// fits says whether the box allows the move, and what it comes to: a move that
// would end where the variable may not be goes on to where it may.
func (w *localSearch) fits(a, n int) (int, bool) {
	at := w.steps[a]
	k, ok := w.Vars[a].Hop(at, n)
	return k - at, ok && k >= w.lo[a] && k <= w.hi[a] && k != at
}

// leastGain is what a step must win to count, as a share of the score.
const leastGain = 1e-10

// better keeps a move that lowers the score. What is kept beside the point
// drifts as it is added to and taken from, so a gain counts only once the score
// has been worked out afresh: then it only ever falls, and the local search ends.
func (w *localSearch) better() bool {
	w.tried()
	gain := w.gain()
	if !(w.score() < w.best-gain) {
		return false
	}
	w.afresh()
	if s := w.score(); s < w.best-gain {
		w.best = s
		return true
	}
	return false
}

// tried counts a neighbour.
func (w *localSearch) tried() {
	if w.left--; w.left%looks == 0 && w.ended() {
		w.left = 0
	}
}

// gain is what a move must lower the score by.
func (w *localSearch) gain() float64 { return leastGain * math.Max(1, math.Abs(w.best)) }

// hopeless says whether a look shows that taking variable a n steps further lowers no score: the cost rises, or limits
// that it does not touch stay exceeded.
func (w *localSearch) hopeless(a, n int) bool {
	if w.goal.LeastUse {
		return false
	}
	v, at := &w.Vars[a], float64(w.steps[a])
	cost := w.cost + v.Weight*v.Step*(math.Abs(at+float64(n))-math.Abs(at)) + v.Slope*v.Step*float64(n)
	if len(w.FixedCost) > 0 {
		cost -= w.FixedCost[v.Block]
	}
	over := w.over
	if over > 0 {
		for _, i := range w.limitsOf[a] {
			over -= w.past[i]
		}
	}
	return cost+penalty*over >= w.best-w.gain()
}

// afresh works out all that is kept beside the steps.
func (w *localSearch) afresh() {
	w.grid.afresh(&w.point)
	w.cost, w.over = w.judge.cost(w.steps), 0
	for i := range w.shares {
		w.shares[i] = w.share(i, w.rows)
		w.past[i] = w.excess(i)
		w.over += w.past[i]
	}
	for b := range w.worst {
		w.worst[b] = -1
	}
}

// down searches until no neighbour helps, or enough were tried.
func (w *localSearch) down() {
	for w.left > 0 && (w.singles() || w.pairs() || w.together()) {
	}
}

func (w *localSearch) singles() bool {
	improved := false
	for a := range w.Vars {
		if w.left <= 0 {
			break
		}
		for _, n := range [4]int{1, -1, 2, -2} {
			improved = w.stride(a, n) || improved
		}
	}
	return improved
}

// stride takes a variable downhill by n steps at a time, twice as many each time
// as long as that helps.
func (w *localSearch) stride(a, n int) bool {
	improved := false
	for by := n; ; {
		far, ok := w.fits(a, by)
		if ok && w.hopeless(a, far) {
			w.tried()
			ok = false
		}
		if ok {
			w.move(a, far)
			if w.better() {
				improved = true
				by *= 2
				continue
			}
			w.move(a, -far)
		}
		if by == n {
			return improved
		}
		by = n
	}
}

func (w *localSearch) pairs() bool {
	improved := false
	for a := range w.Vars {
		if w.left <= 0 {
			break
		}
		for _, n := range [2]int{1, -1} {
			by, ok := w.fits(a, n)
			if !ok {
				continue
			}
			w.move(a, by)
			if w.partner(a) {
				improved = true
			} else {
				w.move(a, -by)
			}
		}
	}
	return improved
}

// partner looks for the second half of a neighbour.
func (w *localSearch) partner(a int) bool {
	for _, b := range w.near[a] {
		if w.left <= 0 {
			return false
		}
		for _, m := range [4]int{1, -1, 2, -2} {
			by, ok := w.fits(b, m)
			if !ok {
				continue
			}
			if w.hopeless(b, by) {
				w.tried()
				continue
			}
			w.move(b, by)
			if w.better() {
				return true
			}
			w.move(b, -by)
		}
	}
	return false
}
