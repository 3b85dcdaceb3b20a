package optimize_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// Two machines, one held, in both planes: every plan that would be less than
// the one found is tried, and none of them keeps the limits. The planes are
// tried together; what they do to each other in true geometry is less than
// nearly, so that only pairs that come so near are placed in full.
func TestNothingLessForTwoMachines(t *testing.T) {
	t.Parallel()
	const nearly = 1.1
	tried := 0
	for seed := uint64(101); seed < uint64(trains.Draws(109, 125)); seed++ {
		tr := trains.Drawn(t, "two", seed)
		tr.Shims.Step = 0.1 // fewer packs
		p := planned(t, tr, optimize.Options{Gap: recheck.Exact})
		if p.Status != optimize.Planned || !math.IsNaN(p.Lowest) || p.Least > 1.6 {
			continue
		}
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			tried++
			i := 0
			if tr.Machines[0].Hold {
				i = 1
			}
			up := pairs(tr, i, p.Least, tr.Shims.Step, func(f *train.FootMove, v float64) { f.Up = v })
			left := pairs(tr, i, p.Least, tr.Units.Resolution(), func(f *train.FootMove, v float64) { f.Left = v })
			best := math.Inf(1)
			for _, a := range up {
				for _, b := range left {
					if a.cost+b.cost > p.Least+1e-9 || a.cost+b.cost >= best || a.apart(b) > nearly*p.Aim {
						continue
					}
					moves := tr.Stay()
					for f := range moves[i] {
						moves[i][f] = train.FootMove{Up: a.moves[i][f].Up, Left: b.moves[i][f].Left}
					}
					if keeps(tr, moves, p.Aim) {
						best = a.cost + b.cost
					}
				}
			}
			assert.InDelta(t, best, p.Least, 1e-9)
		})
	}
	assert.GreaterOrEqual(t, tried, trains.Draws(3, 10))
}

// A pair is what the two stations of a machine are moved by in one plane, and
// what that makes of the couplings there.
type pair struct {
	moves train.Moves
	cost  float64
	off   [][2]float64 // of each limit: vertical and horizontal, as a share of it
}

// apart is the worst use of a pair of vertical moves and one of side moves.
func (p *pair) apart(side pair) float64 {
	var worst float64
	for n := range p.off {
		worst = math.Max(worst, math.Hypot(p.off[n][0], side.off[n][1]))
	}
	return worst
}

// pairs are all that cost no more than most.
func pairs(tr *train.Train, i int, most, step float64, set func(*train.FootMove, float64)) []pair {
	var out []pair
	feet := tr.Machines[i].Feet
	each := 2 * tr.Machines[i].Effort * step
	n := int(most / each)
	for a := -n; a <= n; a++ {
		for b := -n; b <= n; b++ {
			p := pair{moves: tr.Stay(), cost: each * (math.Abs(float64(a)) + math.Abs(float64(b)))}
			if p.cost > most+1e-9 {
				continue
			}
			for f := range feet {
				v := a
				if feet[f].X != feet[0].X {
					v = b
				}
				set(&p.moves[i][f], float64(v)*step)
			}
			state := tr.Check(p.moves)
			for _, conditions := range state.Couplings {
				for k := range conditions {
					for _, u := range conditions[k].Uses {
						p.off = append(p.off, [2]float64{u.V / u.Limit, u.H / u.Limit})
					}
				}
			}
			out = append(out, p)
		}
	}
	return out
}

// keeps says whether the moves of a train without pipes and level limits keep
// its couplings, packs and holes.
func keeps(tr *train.Train, moves train.Moves, use float64) bool {
	state := tr.Check(moves)
	if state.Worst() > use*(1+recheck.Rounding) {
		return false
	}
	for i := range tr.Machines {
		for f, foot := range tr.Machines[i].Feet {
			off := math.Hypot(state.Machines[i].Feet[f].Axial-foot.BoltAt[0], state.Machines[i].Feet[f].Left-foot.BoltAt[1])
			if moves[i][f].Up < -foot.Lower-1e-9 || moves[i][f].Up > foot.Raise+1e-9 ||
				off > (foot.Hole-foot.Bolt)/2*(1+recheck.Rounding) {
				return false
			}
		}
	}
	return true
}
