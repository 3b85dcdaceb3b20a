package search

import (
	"math"

	"leastmove/optimize/lattice"
)

// A judge puts numbers on points for one goal, so that the exchange and the
// tree can treat both goals alike.
type judge struct {
	*grid
	goal lattice.Goal
	near [][]int // of each variable: the later ones in its own block or the next
}

func newJudge(l *grid, goal lattice.Goal) *judge {
	j := &judge{grid: l, goal: goal, near: make([][]int, len(l.Vars))}
	for a := range l.Vars {
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
	case j.goal.LeastUse && (use > j.goal.MostUse || j.cost(p.steps) > j.goal.Cap*(1+slack)):
		return math.Inf(1)
	case j.goal.LeastUse:
		return use
	case use > j.goal.Use*(1+2*slack):
		return math.Inf(1)
	}
	return j.cost(p.steps)
}

// score is what the exchange walks down: what limits are exceeded by, heavily,
// and then the goal.
func (j *judge) score(p *point, penalty float64) float64 {
	if j.goal.LeastUse {
		var worst, over float64
		for i := range j.Limits {
			s := j.share(i, p.rows)
			if j.Limits[i].Shared {
				worst = math.Max(worst, s)
			} else {
				over += math.Max(0, s-1-slack)
			}
		}
		over += math.Max(0, j.cost(p.steps)/j.goal.Cap-1-slack)
		return worst + penalty*over
	}
	return j.cost(p.steps) + penalty*j.excess(p, j.goal.Use)
}

// exchange walks from a point to one that no exchange of one or two steps
// makes better, first to where the limits hold, then down the goal. It looks
// at pairs of variables within neighbouring blocks, in their order: the walk
// is the same each time.
func (j *judge) exchange(p *point, lo, hi lattice.Steps, penalty float64) {
	best := j.score(p, penalty)
	for improved := true; improved; {
		improved = false
		for a := range j.Vars {
			for _, n := range [4]int{1, -1, 2, -2} {
				if j.try(p, a, n, lo, hi) {
					if s := j.score(p, penalty); s < best-1e-12 {
						best, improved = s, true
						continue
					}
					j.step(p, a, -n)
				}
			}
		}
		if improved {
			continue
		}
		improved = j.pairs(p, lo, hi, penalty, &best)
	}
}

func (j *judge) pairs(p *point, lo, hi lattice.Steps, penalty float64, best *float64) bool {
	improved := false
	for a := range j.Vars {
		for _, n := range [2]int{1, -1} {
			if !j.try(p, a, n, lo, hi) {
				continue
			}
			kept := false
			for _, b := range j.near[a] {
				for _, m := range [4]int{1, -1, 2, -2} {
					if !j.try(p, b, m, lo, hi) {
						continue
					}
					if s := j.score(p, penalty); s < *best-1e-12 {
						*best, improved, kept = s, true, true
						break
					}
					j.step(p, b, -m)
				}
				if kept {
					break
				}
			}
			if !kept {
				j.step(p, a, -n)
			}
		}
	}
	return improved
}

// try moves variable a by n steps where the box allows it.
func (j *judge) try(p *point, a, n int, lo, hi lattice.Steps) bool {
	if k := p.steps[a] + n; k < lo[a] || k > hi[a] {
		return false
	}
	j.step(p, a, n)
	return true
}
