package infeasible

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// The pump must go 0.45 mm to the left, at one of its feet something stands in the way after 0.05 mm, and no hole,
// bolt or pack helps: the gear that is held must give.
const heldBack = `title = "held back (invented)"
units = "mm"
[[machine]]
name = "gear"
at = 0
height = 500
hold = true
growth = [{ v = 0 }]
foot = [{ name = "front", x = 0, spread = 400 }, { name = "back", x = 600, spread = 400 }]
[[machine]]
name = "pump"
at = 1000
height = 500
growth = [{ v = 0 }]
[[machine.foot]]
name = "drive end"
x = 0
spread = 400
shim = 5
left = { travel = { left = 0.05 } }
[[machine.foot]]
name = "far end"
x = 600
spread = 400
shim = 5
[[coupling]]
name = "c"
from = "gear"
to = "pump"
x = 800
limit = { offset = 0.05, angle = 0.4 }
found = { v = { offset = 0, angle = 0 }, h = { offset = -0.45, angle = 0 } }
`

// The feet of a station go sideways together; only one of them is bounded, and only that one is in the conflict.
func TestOnlyTheFootWithTravelIsInTheConflict(t *testing.T) {
	p := explained(t, trains.Read(t, "held back", heldBack), optimize.Options{})
	var feet []int
	for _, m := range p.Conflict {
		if m.Kind == train.LimitTravel {
			feet = append(feet, m.Foot)
		}
	}
	require.Equal(t, []int{0}, feet)
	assert.Equal(t, 0.05, p.Train.Machines[1].Feet[0].TravelLeft)
}

// What one kind of option does alone is not listed as a mix of kinds once more.
func TestNoOptionIsListedTwice(t *testing.T) {
	p := explained(t, trains.Read(t, "held back", heldBack), optimize.Options{})
	require.Len(t, p.Relaxations, 1)
	assert.Equal(t, optimize.Release, p.Relaxations[0].Kind)
	assert.Equal(t, 200.0, p.Relaxations[0].Cost, "the default of relief.release")
}
