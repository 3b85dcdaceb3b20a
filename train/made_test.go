package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A machine that goes 0.30 mm to the left and 0.40 mm up as a whole, its first foot from a
// pack that was cut by 0.5 and has a gap of 0.12 under it, which 0.1 fills in steps of
// 0.05: by hand. The flange goes sqrt(0.3² + 0.4²) = 0.5 mm.
func TestMade(t *testing.T) {
	inf := math.Inf(1)
	foot := func(x float64) Foot {
		return Foot{X: x, Pack: 3, Lower: 2, Raise: 2, Bolt: 22, Hole: 24, BoltAt: [2]float64{0.1, 0.2}, TravelLeft: 1,
			TravelRight: 0.5, Pieces: []float64{2, 1}}
	}
	m := Machine{Feet: []Foot{foot(0), foot(0), foot(1000), foot(1000)}, Shafts: []Shaft{{}},
		Nozzles: []Nozzle{{Limit: 0.8}, {Limit: 0.3}, {Limit: inf}}, Level: Level{Pitch: 1, FoundPitch: 0.2}}
	for f := range m.Feet {
		m.Feet[f].Y = []float64{300, -300}[f%2]
	}
	first := &m.Feet[0]
	first.Cut, first.Lower, first.Soft = 0.5, 2.5, 0.12
	m.Feet[1].Raise, m.Feet[1].TravelLeft = 0.3, 0.1 // more was used than there was: nothing is left
	m.Feet[2].Hole, m.Feet[2].Pack, m.Feet[2].Lower, m.Feet[2].Raise = math.NaN(), math.NaN(), inf, inf
	tr := &Train{Machines: []Machine{m}, Shims: Shims{Step: 0.05}}
	moves := Moves{make([]FootMove, 4)}
	for f := range moves[0] {
		moves[0][f] = FootMove{Up: 0.4, Left: 0.3}
	}
	now := tr.Made(moves).Machines[0]

	f := now.Feet[0]
	assert.InDelta(t, 3+0.5+0.1+0.4, f.Pack, 1e-12)
	assert.InDelta(t, 2.5+0.1+0.4, f.Lower, 1e-12, "as far down as before, and what went in")
	assert.InDelta(t, 2-0.1-0.4, f.Raise, 1e-12)
	assert.Equal(t, [2]float64{0, 0}, [2]float64{f.Cut, f.Soft})
	assert.Nil(t, f.Pieces)
	assert.InDeltaSlice(t, []float64{0.1, 0.2 - 0.3}, f.BoltAt[:], 1e-9)
	assert.InDelta(t, 0.7, f.TravelLeft, 1e-9)
	assert.InDelta(t, 0.8, f.TravelRight, 1e-9)
	assert.Zero(t, now.Feet[1].Raise)
	assert.Zero(t, now.Feet[1].TravelLeft)
	f = now.Feet[2]
	assert.True(t, math.IsNaN(f.Pack) && math.IsInf(f.Lower, 1) && math.IsInf(f.Raise, 1), "what is not stated stays so")
	assert.Equal(t, [2]float64{0.1, 0.2}, f.BoltAt, "without a hole")

	assert.InDelta(t, 0.3, now.Nozzles[0].Limit, 1e-9)
	assert.Zero(t, now.Nozzles[1].Limit)
	assert.True(t, math.IsInf(now.Nozzles[2].Limit, 1))
	assert.InDelta(t, 0.2, now.Level.FoundPitch, 1e-9)
	assert.Equal(t, 3.0, tr.Machines[0].Feet[0].Pack, "the old train stays")

	same := tr.Made(tr.Stay()).Machines[0].Feet[3]
	assert.Equal(t, m.Feet[3], same, "where nothing is moved nothing changes")
}
