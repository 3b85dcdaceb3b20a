package optimize_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// exhaust is a machine whose far feet, 1000 from the others, slide 0.6 along the train as it warms; with a hole and
// what else a foot has.
func exhaust(t *testing.T, hole, more string) *train.Train {
	t.Helper()
	return trains.Read(t, "exhaust", strings.NewReplacer("HOLE", hole, "MORE", more).Replace(`title = "exhaust (invented)"
units = "mm"
[[machine]]
name = "motor"
height = 400
hold = true
growth = [{ v = 0.0 }]
[[machine.foot]]
name = "a"
x = 0
spread = 500
[[machine]]
name = "turbine"
at = 1500
height = 500
growth = [{ x = 0, v = 0.2, a = 0.0 }, { x = 1000, v = 0.3, a = 0.6 }]
[[machine.foot]]
name = "inlet"
x = 0
spread = 700
shim = 4.0
bolt = 30
hole = 31
[[machine.foot]]
name = "exhaust"
x = 1000
spread = 700
shim = 4.0
bolt = 30
hole = HOLE
MORE
[[coupling]]
name = "main"
from = "motor"
to = "turbine"
x = 1200
limit = { offset = 0.08, angle = 0.5 }
found = { v = { offset = -0.6, angle = 0.1 }, h = { offset = 0.1, angle = 0.0 } }
`))
}

// With holes of 31 on bolts of 30 a foot has 0.5 each way and slides by 0.6: nothing but the hole is at odds with that.
// With 31.4 it has 0.7; what must be left takes 0.15 of it, which is too much again.
func TestFeetSlideInTheirHoles(t *testing.T) {
	p := planned(t, exhaust(t, "31", ""), optimize.Options{})
	require.Equal(t, optimize.Impossible, p.Status)
	require.NotEmpty(t, p.Conflict)
	for _, m := range p.Conflict {
		assert.Equal(t, train.LimitBolt, m.Kind)
		assert.Equal(t, 0, m.Condition, "when running")
		assert.Contains(t, []int{2, 3}, m.Foot)
	}
	p = planned(t, exhaust(t, "31.4", ""), optimize.Options{})
	require.Equal(t, optimize.Planned, p.Status)
	cold, hot := optimize.HoleRoom(p.Train, 1, 2, p.Planned.Machines[1].Feet[2])
	assert.Greater(t, hot, -train.BoltTilt)
	assert.Less(t, hot, cold)
	assert.Equal(t, optimize.Impossible, planned(t, exhaust(t, "31.4", "free = 0.15"), optimize.Options{}).Status)
	assert.Equal(t, optimize.Planned, planned(t, exhaust(t, "31.4", "free = 0.05"), optimize.Options{}).Status)
}

// As found the bolt is 0.2 behind the middle, so that the foot has 0.5 forward and 0.9 back: it slides 0.6 forward past
// the edge by 0.1 but for what the hole goes back with the machine, which may be shifted.
func TestAMachineIsShiftedForWhatItsFeetSlide(t *testing.T) {
	tr := exhaust(t, "31.4", "bolt_at = [-0.2, 0.0]")
	state := tr.Check(tr.Stay())
	cold, hot := optimize.HoleRoom(tr, 1, 2, state.Machines[1].Feet[2])
	assert.InDelta(t, 0.5, cold, 1e-12)
	assert.InDelta(t, -0.1, hot, 1e-12)
	broken := optimize.Breaks(tr, tr.Stay(), &state, 100)
	require.Len(t, broken, 2)
	assert.Equal(t, "turbine exhaust left, bolt in its hole, hot: 0.8 beyond 0.7", broken[0])
	assert.Equal(t, optimize.Impossible, planned(t, tr, optimize.Options{}).Status)
	tr.Machines[1].Axial = true
	p := planned(t, tr, optimize.Options{})
	require.Equal(t, optimize.Planned, p.Status)
	assert.LessOrEqual(t, p.Moves[1][2].Axial, -0.09, "but for what yaw does at the foot")
}

// Feet of a pair slide apart by what they warm, so that a move to the left has less room at the left foot: 1 - 0.3.
func TestRoomOfFeetThatSlideApart(t *testing.T) {
	tr := exhaust(t, "32", "")
	tr.Machines[1].Feet[2].Slide, tr.Machines[1].Feet[3].Slide = [2]float64{0, 0.3}, [2]float64{0, -0.3}
	stay := train.FootMove{}
	for f, want := range map[int][2]float64{2: {0.7, 1}, 3: {1, 0.7}} {
		room := optimize.FootRoom(tr, 1, f, stay, train.FootState{})
		assert.InDelta(t, want[0], room.Left, 1e-12)
		assert.InDelta(t, want[1], room.Right, 1e-12)
	}
}
