package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What makes up a misalignment adds up to it, part by part, and a train that stays
// has no part from motion.
func TestSumAddsUp(t *testing.T) {
	tr := &Train{
		Machines: []Machine{
			{Height: 300, Shafts: []Shaft{{}}, Feet: []Foot{{X: 0}, {X: 500}}, Growth: Growth{V: Line{Start: 0.12, Slope: 0.1}}},
			{At: 900, Height: 300, Shafts: []Shaft{{Y: 100, Run: Shift{V: -0.05}}}, Feet: []Foot{{X: 0}, {X: 400}}},
		},
		Couplings: []Coupling{{
			From: End{0, 0}, To: End{1, 0}, X: 700,
			Found: Misalignment{V: Tilt{0.3, -0.4}, H: Tilt{-0.45, 0.6}},
		}},
		Conditions: []Condition{{Growth: []float64{1, 1}, Run: 1, Use: 1}},
	}
	motions := []Motion{{Up: 0.2, Pitch: 0.1}, {Left: -0.3, Yaw: 0.05}}
	s := tr.Sum(0, 0, motions)
	assert.Equal(t, tr.Couplings[0].Found, s.Found)
	// Growth of the first machine at 700: 0.12 + 0.07; shift of the second's shaft.
	assert.InDelta(t, -0.05-0.19, s.Warmth.V.Offset, 1e-12)
	assert.InDelta(t, -0.1, s.Warmth.V.Angle, 1e-12)
	// Of the first machine at 700, 0.45 m from the middle of its feet.
	assert.InDelta(t, 0.2-0.1*0.45, s.From.V.Offset, 1e-12)
	assert.InDelta(t, -0.1, s.From.V.Angle, 1e-12)
	// Of the second at 700, its own -200, 0.4 m before the middle of its feet.
	assert.InDelta(t, -0.3-0.05*0.4, s.To.H.Offset, 1e-12)
	linear, _ := tr.Linear(0, 0, motions)
	assert.InDelta(t, linear.V.Offset, s.Found.V.Offset+s.Warmth.V.Offset+s.To.V.Offset-s.From.V.Offset, 1e-12)
	assert.InDelta(t, linear.H.Offset, s.Found.H.Offset+s.Warmth.H.Offset+s.To.H.Offset-s.From.H.Offset, 1e-12)
	assert.InDelta(t, linear.H.Angle, s.Found.H.Angle+s.Warmth.H.Angle+s.To.H.Angle-s.From.H.Angle, 1e-12)
}

// Where two shafts meet a coupling's plane they stand against each other as the
// train says, and the first machine as found, cold, is the line that all is
// measured from. The shafts' ends are their couplings and outermost feet.
func TestCentrelines(t *testing.T) {
	tr := &Train{
		Machines: []Machine{
			{Height: 300, Shafts: []Shaft{{}}, Feet: []Foot{{X: 0}, {X: 500}}},
			{At: 900, Height: 310, Shafts: []Shaft{{Y: 100}}, Feet: []Foot{{X: 0}, {X: 400}}},
		},
		Couplings: []Coupling{{
			From: End{0, 0}, To: End{1, 0}, X: 700,
			Found: Misalignment{V: Tilt{0.3, -0.4}, H: Tilt{-0.45, 0.6}},
		}},
		Conditions: []Condition{{Growth: []float64{1, 1}, Run: 1, Use: 1}},
	}
	lines := tr.Centrelines(tr.Stay(), 0)
	first, second := lines[0], lines[1]
	assert.Equal(t, [2]float64{0, 700}, first.X)
	assert.Equal(t, [2]float64{700, 1300}, second.X)
	for e := range first.X {
		assert.InDelta(t, 0, first.Up[e], 1e-9)
		assert.InDelta(t, 0, first.Left[e], 1e-9)
	}
	assert.InDelta(t, 300, second.Z, 1e-9, "the shafts are level with each other")
	assert.InDelta(t, 0, second.Y, 1e-9, "and in line: the case stands 100 to the right")
	assert.InDelta(t, 0.3, second.Up[0], 1e-6)
	assert.InDelta(t, 0.3-0.4*0.6, second.Up[1], 1e-6)
	assert.InDelta(t, -0.45, second.Left[0], 1e-6)
	assert.InDelta(t, -0.45+0.6*0.6, second.Left[1], 1e-6)
}
