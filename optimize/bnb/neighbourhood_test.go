package bnb

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize/mip"
)

// The neighbours among some variables are those of the smallest share of all that few steps lead to, each worked out
// afresh and put in order: the first found first where two are alike.
func TestNeighboursAreTheSmallestOfAll(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	more, fewer := 0, 0
	for range 12 {
		j := newJudge(newGrid(drawListed(r)), mip.Goal{Use: 0.8}, never)
		var vars []int
		for v := range j.Vars {
			vars = append(vars, v)
		}
		var all []neighbour
		by := make([]int, len(vars))
		for by[0] = -3; by[0] <= 3; {
			some, steps, taken := []int(nil), []int(nil), 0
			for k, n := range by {
				if n != 0 {
					some, steps, taken = append(some, vars[k]), append(steps, n), taken+max(n, -n)
				}
			}
			reach := 6
			if len(vars) > 4 {
				reach = 5
			}
			if len(some) > 1 && steps[0] > 0 && taken <= reach {
				if n := j.neighbour(some, steps); n.share < farthest {
					all = append(all, n)
				}
			}
			k := len(by) - 1
			for by[k]++; k > 0 && by[k] > 3; k-- {
				by[k] = -3
				by[k-1]++
			}
		}
		slices.SortStableFunc(all, func(a, b neighbour) int { return cmp.Compare(a.share, b.share) })
		if len(all) > 400 {
			more++
		} else {
			fewer++
		}
		assert.Equal(t, all[:min(len(all), 400)], j.within(vars))
	}
	t.Log(more, "times there were more than are kept,", fewer, "times fewer")
	assert.Positive(t, more)
	assert.Positive(t, fewer)
}
