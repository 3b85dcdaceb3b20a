package ways

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A train that can be worked out in the head. Invented figures. Feet stand at
// 0 and 1000, 2000 and 3000, 4000 and 5000; couplings at 1500 and 3500. The
// first machine grows by 0.10.
const inTheHead = `
title = "in the head (invented)"
units = "mm"
shims = { step = 0.05 }
[[machine]]
name = "one"
height = 500
growth = [{ x = 0, v = 0.10 }]
[[machine.foot]]
name = "A"
x = 0
spread = 800
shim = 4
[[machine.foot]]
name = "B"
x = 1000
spread = 800
shim = 4
[[machine]]
name = "two"
height = 500
[[machine.foot]]
name = "A"
x = 2000
spread = 800
shim = 4
lower = 0.30
[[machine.foot]]
name = "B"
x = 3000
spread = 800
shim = 4
[[machine]]
name = "three"
height = 500
hold = true
[[machine.foot]]
name = "A"
x = 4000
spread = 800
shim = 4
[[machine.foot]]
name = "B"
x = 5000
spread = 800
shim = 4
[[coupling]]
name = "first"
from = "one"
to = "two"
x = 1500
limit = { offset = 0.05, angle = 0.3 }
found = { v = { offset = 0.30, angle = 0.40 }, h = { offset = 0.10, angle = -0.20 } }
[[coupling]]
name = "second"
from = "two"
to = "three"
x = 3500
limit = { offset = 0.05, angle = 0.3 }
found = { v = { offset = -0.10, angle = 0.20 }, h = { offset = 0, angle = 0 } }
`

// stationMoves are the up and side moves at the stations of a plan, left and
// right feet being the same.
func stationMoves(t *testing.T, p *optimize.Plan) (up, left []float64) {
	for i := range p.Moves {
		for f := 0; f < len(p.Moves[i]); f += 2 {
			assert.Equal(t, p.Moves[i][f], p.Moves[i][f+1], "no roll")
			up, left = append(up, p.Moves[i][f].Up), append(left, p.Moves[i][f].Left)
		}
	}
	return up, left
}

// From the first machine. When running the second stands 0.30 - 0.10 = 0.20
// high at 1500 and slopes up by 0.4: at 2000 and 3000 it goes down by 0.20 + 0.5 ×
// 0.4 = 0.40 and by 0.80, at 3500 by 1.00. The third, 0.10 low and sloping up by
// 0.2 against the second as found, is then 0.90 high and slopes up by 0.6: down
// 0.90 + 0.5 × 0.6 = 1.20 and 1.80. To the side the second goes right by 0.10 at
// 1500 and points left by 0.2: 0 at 2000, left 0.20 at 3000, left 0.30 at 3500;
// the third follows: left 0.40 and 0.60.
func TestCascadeByHand(t *testing.T) {
	tr := trains.Read(t, "in the head", inTheHead)
	p := Cascade(tr, 0)
	up, left := stationMoves(t, p)
	assert.InDeltaSlice(t, []float64{0, 0, -0.40, -0.80, -1.20, -1.80}, up, 1e-9)
	assert.InDeltaSlice(t, []float64{0, 0, 0, 0.20, 0.40, 0.60}, left, 1e-9)
	assert.Equal(t, optimize.Tried, p.Status)
	assert.InDelta(t, 2*(0.40+0.80+1.20+1.80+0.20+0.40+0.60), p.Total, 1e-9)
	assert.Less(t, p.Reached, 1e-2, "what is left is of second order")
	assert.Equal(t, 2, p.Moved)
	// Of the second machine's foot A no more than 0.30 may come out, left and
	// right; the third is held.
	var kinds []train.LimitKind
	for _, b := range p.Broken {
		kinds = append(kinds, b.Kind)
	}
	assert.Equal(t, []train.LimitKind{train.LimitLower, train.LimitLower, train.LimitHold}, kinds)
	assert.Equal(t, [2]float64{0.40, 0.30}, [2]float64{p.Broken[0].Value, p.Broken[0].Bound})
}

// From the last machine. The second comes up so that the third is where it is
// wanted: by -0.10 at 3500, sloping up by 0.2 more: -0.20 at 3000, -0.40 at 2000,
// -0.50 at 1500. The first, of which the second then stands 0.20 - 0.50 = -0.30
// and slopes up by 0.6 when running, goes down by 0.30 at 1500 and slopes up by 0.6:
// -0.60 at 1000 and -1.20 at 0.
func TestCascadeBackwardsByHand(t *testing.T) {
	up, left := stationMoves(t, Cascade(trains.Read(t, "in the head", inTheHead), 2))
	assert.InDeltaSlice(t, []float64{-1.20, -0.60, -0.40, -0.20, 0, 0}, up, 1e-9)
	// To the side the second stays where it is; the first, on whose line it is to
	// lie, goes left by 0.10 at 1500 and points right by 0.2: left 0.20 at 1000 and
	// 0.40 at 0.
	assert.InDeltaSlice(t, []float64{0.40, 0.20, 0, 0, 0, 0}, left, 1e-9)
}

// The line through the cascade's 0, 0, -0.4, -0.8, -1.2, -1.8 at 0 to 5 m: mean
// -0.7 at 2.5 m, slope -6.5 / 17.5 = -0.3714. What is left of it, 0 - 0.2286 and
// so on: -0.2286, 0.1429, 0.1143, 0.0857, 0.0571, -0.1714, in steps of 0.05. To
// the side 0, 0, 0, 0.2, 0.4, 0.6: mean 0.2, slope 2.2 / 17.5 = 0.1257; left of
// it 0.1143, -0.0114, -0.1371, -0.0629, 0.0114, 0.0857.
func TestStraightLineByHand(t *testing.T) {
	p := StraightLine(trains.Read(t, "in the head", inTheHead))
	up, left := stationMoves(t, p)
	assert.InDeltaSlice(t, []float64{-0.25, 0.15, 0.10, 0.10, 0.05, -0.15}, up, 1e-9)
	assert.InDeltaSlice(t, []float64{0.11, -0.01, -0.14, -0.06, 0.01, 0.09}, left, 1e-9)
}

// On trains of every family with whole steps made fine: a cascade and a straight
// line leave no misalignment but what true geometry adds, and no other line has
// a smaller sum of squares.
func TestYardsticksLeaveNoMisalignment(t *testing.T) {
	t.Parallel()
	for _, family := range []string{"plain", "spacer", "gear", "three", "inch", "mirrored"} {
		tr := trains.Drawn(t, family, 341)
		tr.Shims.Step = 1e-4
		for i := range tr.Machines {
			p := Cascade(tr, i)
			running := 0.0
			for c := range p.Planned.Couplings {
				for _, u := range p.Planned.Couplings[c][0].Uses {
					if u.Kind != train.Gap {
						running = max(running, u.Share)
					}
				}
			}
			assert.Less(t, running, 0.3, "%s, cascade from %d: steps of side moves and second order", family, i)
			assert.False(t, p.Moves.Moved(i), "it stays")
		}
		line := StraightLine(tr)
		for i := range tr.Machines {
			assert.LessOrEqual(t, squares(line), squares(Cascade(tr, i))*(1+1e-3), "%s: a cascade is one of the lines", family)
		}
	}
}

// squares is the sum of squares of the moves up and to the sides at the stations.
func squares(p *optimize.Plan) float64 {
	var sum float64
	for i, feet := range p.Moves {
		for _, s := range p.Train.Machines[i].Stations() {
			f := feet[s[0]]
			sum += f.Up*f.Up + f.Left*f.Left
		}
	}
	return sum
}

// A gap under a foot is filled once, for a cascade as for a plan: what may come
// out of the pack then is the 4 mm that are there and the 0.10 that went in.
func TestTriedMovesFillSoftFeetOnce(t *testing.T) {
	tr := trains.Read(t, "in the head", inTheHead)
	tr.Machines[0].Feet[0].Soft = 0.10
	for _, p := range []*optimize.Plan{Cascade(tr, 1), StraightLine(tr), optimize.Try(tr, tr.Stay())} {
		foot := p.Train.Machines[0].Feet[0]
		assert.InDelta(t, 4.10, foot.Lower, 1e-12)
		assert.InDelta(t, 4.10, foot.Pack, 1e-12)
		assert.Len(t, p.Soft, 1)
	}
}
