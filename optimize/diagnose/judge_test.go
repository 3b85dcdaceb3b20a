package diagnose

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"leastmove/train"
	"leastmove/train/readings"
)

// Three machines with feet at x = 0 and 1000 of their own, 2000 apart, shafts at
// the shim plane; couplings at 1500 and 3500. Errors of reading are 0.005 mm and
// 0.01 mrad, of placing 0.01 mm.
func three() *Case {
	t := &train.Train{Conditions: []train.Condition{{Name: "running", Growth: make([]float64, 3), Use: 1}}}
	for i, name := range []string{"a", "b", "c"} {
		t.Machines = append(t.Machines, train.Machine{
			Name: name, At: 2000 * float64(i), Shafts: []train.Shaft{{}},
			Feet: []train.Foot{{Name: "front left", Y: 400}, {Name: "front right", Y: -400},
				{Name: "rear left", X: 1000, Y: 400}, {Name: "rear right", X: 1000, Y: -400}},
		})
	}
	c := &Case{Train: t, Moves: t.Stay(), Placing: 0.01}
	for i := range 2 {
		t.Couplings = append(t.Couplings, train.Coupling{From: train.End{Machine: i}, To: train.End{Machine: i + 1},
			X: 1500 + 2000*float64(i)})
		error := train.Tilt{Offset: 0.005, Angle: 0.01}
		c.Couplings = append(c.Couplings, Coupling{
			Before: Pose{Gap: math.NaN()}, Planned: Pose{Gap: math.NaN()}, Now: Pose{Gap: math.NaN()},
			Error: train.Misalignment{V: error, H: error},
		})
	}
	return c
}

func judged(t *testing.T, c *Case) *Verdict {
	t.Helper()
	v, err := Judge(c)
	require.NoError(t, err)
	for _, m := range v.Machines {
		for _, s := range m.Stations {
			for _, x := range []float64{s.Up, s.HalfUp, s.Left, s.HalfLeft} {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			}
		}
	}
	return v
}

// By hand: machine b was to go up 0.3 at its front (x = 2000) and did not. It is
// then 0.3 low there and as planned at x = 3000: its shaft slopes up by 0.3 mm in 1 m
// more than planned and stands, at 1500, 0.3 + 0.5 × 0.3 = 0.45 low. At 3500 it is
// 0.5 × 0.3 = 0.15 high, so c sits 0.15 low relative to it and slopes down by 0.3.
func frontStays() *Case {
	c := three()
	c.Moves[1][0].Up, c.Moves[1][1].Up = 0.3, 0.3
	c.Couplings[0].Now.V = train.Tilt{Offset: -0.45, Angle: 0.3}
	c.Couplings[1].Now.V = train.Tilt{Offset: -0.15, Angle: -0.3}
	return c
}

func TestStationThatStays(t *testing.T) {
	v := judged(t, frontStays())
	require.True(t, v.Off)
	require.NotEmpty(t, v.Suspects)
	s := v.Suspects[0]
	assert.Equal(t, NotMade, s.Cause)
	assert.Equal(t, 1, s.Machine)
	assert.Equal(t, []int{0, 1}, s.Feet)
	assert.Equal(t, Vertical, s.Plane)
	assert.True(t, v.Enough)
	front := v.Machines[1].Stations[0]
	assert.InDelta(t, 0.3, front.PlannedUp, 1e-12)
	assert.InDelta(t, 0, front.Up, 1e-9, "it is where it was")
	assert.Less(t, front.HalfUp, 1.96*0.01, "readings add to what is known")
	assert.InDelta(t, 0, v.Machines[1].Stations[1].Up, 1e-9, "the rear was not to move")
}

// All as planned: nothing is accused, and the square is nought.
func TestNothingAccused(t *testing.T) {
	c := frontStays()
	for i := range c.Couplings {
		c.Couplings[i].Planned = c.Couplings[i].Now
	}
	v := judged(t, c)
	assert.False(t, v.Off)
	assert.Empty(t, v.Suspects)
	assert.InDelta(t, 0, v.Square, 1e-12)
	assert.Equal(t, 8, v.Freedom)
	assert.InDelta(t, 26.12, v.Most, 0.01, "chi-square, 8 degrees of freedom, 0.999 (printed tables: 26.125)")
}

// By hand: the standard error of an offset at 1500 is reading and placing. Machine
// a does not move; b's front goes in with 1.5, its rear with 0.5 times its error:
// 0.005² + 0.01² (1.5² + 0.5²); of the angle 0.01² + 2 × (0.01 / 1 m)².
func TestExpected(t *testing.T) {
	v := judged(t, frontStays())
	assert.InDelta(t, math.Sqrt(0.005*0.005+1e-4*2.5), v.Couplings[0].V.Offset, 1e-9)
	assert.InDelta(t, math.Sqrt(3e-4), v.Couplings[0].V.Angle, 1e-9)
}

// Readings that say nothing leave a station where it was set to be: to within 1.96
// times 0.01.
func TestHalfWidthOfPlacing(t *testing.T) {
	c := frontStays()
	for i := range c.Couplings {
		blind := train.Tilt{Offset: 1e4, Angle: 1e4}
		c.Couplings[i].Error = train.Misalignment{V: blind, H: blind}
	}
	v := judged(t, c)
	assert.False(t, v.Off)
	for _, s := range v.Machines[1].Stations {
		assert.InDelta(t, 0.0196, s.HalfUp, 1e-6)
		assert.InDelta(t, 0.0196, s.HalfLeft, 1e-6)
		assert.InDelta(t, s.PlannedUp, s.Up, 1e-6)
	}
	assert.Zero(t, v.Machines[0].Stations[0].HalfUp, "it was not moved")
}

// The same, side to side; and raised where it was to come down.
func TestWrongWay(t *testing.T) {
	c := three()
	c.Moves[1][0].Left, c.Moves[1][1].Left = -0.15, -0.15
	// It is 0.3 further left at its front than planned: 0.45 and so on, as above.
	c.Couplings[0].Now.H = train.Tilt{Offset: 0.45, Angle: -0.3}
	c.Couplings[1].Now.H = train.Tilt{Offset: 0.15, Angle: 0.3}
	v := judged(t, c)
	require.NotEmpty(t, v.Suspects)
	assert.Equal(t, WrongWay, v.Suspects[0].Cause)
	assert.Equal(t, Sideways, v.Suspects[0].Plane)
	assert.InDelta(t, 0.15, v.Machines[1].Stations[0].Left, 1e-9)
}

// One pack of a pair left as it was takes the front down by half, and rolls the
// machine: of four feet at y = ±0.4 m one that is 0.3 low turns it by 0.3 × 0.4 /
// (4 × 0.16) = 0.1875 mrad, left side down, which takes a shaft 0.5 m high by
// 0.09375 mm to the left. The roll tells left from right.
func TestOneFoot(t *testing.T) {
	c := frontStays()
	for i := range c.Train.Machines {
		c.Train.Machines[i].Height = 500
	}
	c.Couplings[0].Now.V = train.Tilt{Offset: -0.225, Angle: 0.15}
	c.Couplings[1].Now.V = train.Tilt{Offset: -0.075, Angle: -0.15}
	c.Couplings[0].Now.H.Offset, c.Couplings[1].Now.H.Offset = 0.09375, -0.09375
	v := judged(t, c)
	require.NotEmpty(t, v.Suspects)
	assert.Equal(t, OneFoot, v.Suspects[0].Cause)
	assert.Equal(t, []int{0}, v.Suspects[0].Feet, "the left one")
	assert.InDelta(t, 0.15, v.Machines[1].Stations[0].Up, 1e-9)
}

// Readings from before the moves, of two machines that were to move: b as above, and
// a up by 0.2 at its rear (x = 1000), which takes its shaft at 1500 up by 0.3 and
// slopes up by 0.2; without that b stands 0.3 higher against it, and slopes up by 0.2 more.
func TestNoneMade(t *testing.T) {
	c := frontStays()
	c.Moves[0][2].Up, c.Moves[0][3].Up = 0.2, 0.2
	c.Couplings[0].Now.V = train.Tilt{Offset: -0.45 + 0.3, Angle: 0.3 + 0.2}
	v := judged(t, c)
	require.NotEmpty(t, v.Suspects)
	assert.Equal(t, NoneMade, v.Suspects[0].Cause)
	assert.True(t, v.Enough)
	assert.InDelta(t, 0, v.Machines[0].Stations[1].Up, 1e-9)
}

// Readings with left and right swapped: at c's coupling 0.2 left was planned and
// 0.2 right is read, and turning the other way.
func TestMirrored(t *testing.T) {
	c := frontStays()
	c.Couplings[0].Now.V, c.Couplings[1].Now.V = train.Tilt{}, train.Tilt{}
	c.Couplings[1].Planned.H = train.Tilt{Offset: 0.2, Angle: -0.3}
	c.Couplings[1].Now.H = train.Tilt{Offset: -0.2, Angle: 0.3}
	v := judged(t, c)
	require.NotEmpty(t, v.Suspects)
	assert.Equal(t, Mirrored, v.Suspects[0].Cause)
	assert.Equal(t, 1, v.Suspects[0].Coupling)
	assert.False(t, v.Suspects[0].Before)
}

// A sag of -0.3 at 6 lowers what a rim dial on the To shaft is thought to show by
// half of that: where it is taken out of readings without it, the To shaft seems
// 0.15 mm lower at the dial's plane. Two dials on the To shaft, at 1400 and 1600,
// have it alike, so that the angle stays.
func TestSagTwice(t *testing.T) {
	c := frontStays()
	for _, x := range []float64{1400, 1600} {
		c.Train.Couplings[0].Dials = append(c.Train.Couplings[0].Dials, train.Dial{
			Kind: train.RimDial, X: x, Radius: math.NaN(), Sag: -0.3, Set: 1, Angles: []float64{0, 90, 180, 270},
			Values: []float64{0, 0, 0, 0},
		})
	}
	read := &c.Train.Couplings[0]
	fit, refusal := readings.Reduce(read, readings.OptionsOf(c.Train, read))
	require.Nil(t, refusal)
	read.Fit = fit
	c.Couplings[1].Now.V = train.Tilt{}
	for _, after := range []bool{true, false} {
		off := -0.15
		if !after {
			off = 0.15 // found too low, it was raised too far
		}
		c.Couplings[0].Now.V = train.Tilt{Offset: off}
		v := judged(t, c)
		require.NotEmpty(t, v.Suspects)
		assert.Equal(t, SagTwice, v.Suspects[0].Cause)
		assert.Equal(t, !after, v.Suspects[0].Before)
	}
}

// A train of two machines has one coupling: what is off there may be either side,
// and that is said.
func TestCannotTell(t *testing.T) {
	c := frontStays()
	c.Train.Machines, c.Train.Couplings, c.Couplings = c.Train.Machines[:2], c.Train.Couplings[:1], c.Couplings[:1]
	c.Moves = train.Moves{make([]train.FootMove, 4), make([]train.FootMove, 4)}
	for f := range 4 {
		c.Moves[0][f].Left, c.Moves[1][f].Left = 0.2, -0.2
	}
	// One of the two machines stayed: 0.2 to the right of the plan, or 0.2 left.
	c.Couplings[0].Now.V = train.Tilt{}
	c.Couplings[0].Now.H = train.Tilt{Offset: 0.2}
	v := judged(t, c)
	require.GreaterOrEqual(t, len(v.Suspects), 2)
	assert.ElementsMatch(t, []int{0, 1}, []int{v.Suspects[0].Machine, v.Suspects[1].Machine})
	assert.InDelta(t, v.Suspects[0].Share, v.Suspects[1].Share, 1e-6)
}

// By hand: one reading of 4 standard errors. An explanation that may make it anything,
// by 3 standard errors or so, is better than errors alone by the ratio of the densities of
// N(0, 1 + 9) and N(0, 1) at 4: ln = 16/2 - 16/20 - ln(10)/2. One that makes it 4 exactly
// is better by 16/2. So what may be anything pays for it.
func TestFreedomIsPaidFor(t *testing.T) {
	j := &judge{s: mat.NewSymDense(1, []float64{1}), z: []float64{4}}
	require.True(t, j.chol.Factorize(j.s))
	j.chol.LTo(&j.low)
	better, left := j.weighed(&candidate{free: []direction{{shown: []float64{3}}}})
	assert.InDelta(t, 8-0.8-math.Log(10)/2, better, 1e-12)
	assert.InDelta(t, 1.6, left, 1e-12, "16 less (3 · 4)² / 10")
	better, left = j.weighed(&candidate{shift: []float64{4}})
	assert.InDelta(t, 8, better, 1e-12)
	assert.InDelta(t, 0, left, 1e-12)
}

// Without anything to compare there is no verdict.
func TestNoReadings(t *testing.T) {
	c := three()
	nan := train.Tilt{Offset: math.NaN(), Angle: math.NaN()}
	for i := range c.Couplings {
		c.Couplings[i].Now.Misalignment = train.Misalignment{V: nan, H: nan}
	}
	_, err := Judge(c)
	assert.Error(t, err)
}

// By hand, as of frontStays but all of it twice and the other way: machine b was to go up 0.3 and 0.2 to the left at
// its front, and went down 0.3 and 0.2 to the right.
func TestAllMovesOfOneStationTheOtherWay(t *testing.T) {
	c := three()
	for f := range 2 {
		c.Moves[1][f].Up, c.Moves[1][f].Left = 0.3, 0.2
	}
	c.Couplings[0].Now.V, c.Couplings[0].Now.H = train.Tilt{Offset: -0.9, Angle: 0.6}, train.Tilt{Offset: -0.6, Angle: 0.4}
	c.Couplings[1].Now.V, c.Couplings[1].Now.H = train.Tilt{Offset: -0.3, Angle: -0.6},
		train.Tilt{Offset: -0.2, Angle: -0.4}
	reversed(t, c, []int{0, 1})
}

// The same of a machine that was to go up and to the left at both of its stations: off by -0.6 and -0.4 all along, so
// that what is read at 1500 is lower and to the right by that, at 3500 higher and to the left, and no angle is off.
func TestAllMovesOfOneMachineTheOtherWay(t *testing.T) {
	c := three()
	for f := range 4 {
		c.Moves[1][f].Up, c.Moves[1][f].Left = 0.3, 0.2
	}
	for k, sign := range [2]float64{-1, 1} {
		c.Couplings[k].Now.V.Offset, c.Couplings[k].Now.H.Offset = sign*0.6, sign*0.4
	}
	reversed(t, c, nil)
}

func reversed(t *testing.T, c *Case, feet []int) {
	t.Helper()
	v := judged(t, c)
	require.NotEmpty(t, v.Suspects)
	s := v.Suspects[0]
	assert.Equal(t, []any{WrongWay, 1, Every, feet}, []any{s.Cause, s.Machine, s.Plane, s.Feet})
	assert.Greater(t, s.Share, 0.9)
	assert.True(t, v.Enough)
}
