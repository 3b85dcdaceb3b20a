package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPlayIsHalfTheClearance(t *testing.T) {
	h := Foot{Bolt: 30, Hole: 33}
	assert.Equal(t, 1.5, h.Play(), "(33 - 30) / 2")
	h.Bolt = math.NaN()
	assert.True(t, math.IsInf(h.Play(), 1), "an unknown bolt limits nothing")
}

// By hand: the bolt sits 0.9 axial and 0.4 left of the centre of a hole with
// 1.5 play. Half chord at 0.9: sqrt(1.5² - 0.9²) = 1.2. The foot goes left
// until the hole's right edge meets the bolt: 1.2 + 0.4, right 1.2 - 0.4.
func TestRoomAcrossTheHole(t *testing.T) {
	inf := math.Inf(1)
	f := Foot{
		Bolt: 30, Hole: 33, BoltAt: [2]float64{0.9, 0.4},
		Lower: 3.5, Raise: inf, TravelLeft: inf, TravelRight: 0.5,
	}
	r := f.Room(0, 0, 0)
	assert.InDelta(t, 1.6, r.Left, 1e-12)
	assert.InDelta(t, 0.5, r.Right, 1e-12, "the stated travel is less than 0.8")
	assert.Equal(t, 3.5, r.Down)
	assert.True(t, math.IsInf(r.Up, 1))
	assert.False(t, r.BaseBound())

	r = f.Room(-3.5, 1.6, 0)
	assert.True(t, r.BaseBound(), "all that may come out is out")
	assert.Less(t, math.Min(r.Left, r.Right), LeastRoom, "the hole's edge meets the bolt")
	assert.InDelta(t, 1.5, f.BoltOff(0, 1.6), 1e-12, "0.9 and 0.4 - 1.6 = -1.2 make 1.5")

	// An axial shift of 0.9 takes the bolt to the middle chord: 1.5 each way.
	r = f.Room(0, 0, 0.9)
	assert.InDelta(t, 1.5+0.4, r.Left, 1e-12)

	// Shifted so far that the bolt is outside whatever the side move: negative.
	r = f.Room(0, 0.4, -1)
	assert.InDelta(t, 1.5-1.9, r.Left, 1e-12)
	assert.InDelta(t, 1.5-1.9, r.Right, 1e-12)
}
