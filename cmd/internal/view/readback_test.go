package view

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
	"leastmove/train/trainfile"
)

// readBackFile is a motor that rises 0.20 at its outboard feet and 0.40 mm at its inboard ones and a pump on feet that
// are written down last to first, which grows 0.10 down (a sign the wrong way round). The pump was read 0.5 mm high,
// sloping up 0.4 mrad, and 0.2 mm to the right. At x = 1000 the motor's line is at 0.45 mm, sloping up 0.25 mrad.
const readBackFile = `title = "read back"
units = "mm"
[[machine]]
name = "motor"
height = 400
hold = true
[[machine.foot]]
name = "outboard"
x = 0
spread = 500
[[machine.foot]]
name = "inboard"
x = 800
spread = 500
[[machine.growth]]
x = 0
v = 0.2
[[machine.growth]]
x = 800
v = 0.4
[[machine]]
name = "pump"
at = 1200
height = 400
[[machine.foot]]
name = "far"
x = 600
spread = 500
shim = 0
bolt = 20
hole = 22
bolt_at = [0, -1.0]
[[machine.foot]]
name = "near"
x = 0
spread = 500
[[machine.growth]]
v = -0.1
a = 0.3
[[coupling]]
name = "main"
from = "motor"
to = "pump"
x = 1000
limit = { offset = 0.05, angle = 0.5 }
[coupling.found]
v = { offset = 0.5, angle = 0.4 }
h = { offset = -0.2, angle = 0.0 }
`

func readBackTrain(t *testing.T, text string) *Check {
	t.Helper()
	tr, report := trainfile.Read("train.toml", []byte(text), trainfile.Options{})
	require.NotNil(t, tr, report)
	return CheckOf(tr)
}

// As read, with growth by hand, and feet in the order of the train whatever that of the file is.
func TestReadBack(t *testing.T) {
	c := readBackTrain(t, readBackFile)
	require.Len(t, c.Back.Couplings, 1)
	b := c.Back.Couplings[0]
	assert.Equal(t, train.Misalignment{V: train.Tilt{Offset: 0.5, Angle: 0.4}, H: train.Tilt{Offset: -0.2}}, b.Read)
	// 0.5 - 0.1 - 0.45 and 0.4 - 0.25: true geometry is off that by less than a micron.
	assert.InDelta(t, -0.05, b.Running.V.Offset, 1e-3)
	assert.InDelta(t, 0.15, b.Running.V.Angle, 1e-3)
	assert.Equal(t, 200.0, b.Face.Diameter, "no face reading says one")
	assert.InDelta(t, -0.08, b.Face.Top, 1e-12, "it slopes up: wider at the bottom")

	var x, up []float64
	for _, g := range c.Back.Growth {
		x, up = append(x, g.X), append(up, g.Up)
		assert.Len(t, g.Feet, 2)
	}
	assert.Equal(t, []float64{0, 800, 1200, 1800}, x, "along the train")
	for i, want := range []float64{0.2, 0.4, -0.1, -0.1} {
		assert.InDelta(t, want, up[i], 1e-9)
	}
	assert.InDelta(t, 0.3, c.Back.Growth[3].Axial, 1e-9)
	assert.True(t, c.Back.Growth[0].AxialUnknown)
	assert.False(t, c.Back.Growth[3].AxialUnknown)
	assert.Equal(t, []int{1}, c.Back.Bolts)
	assert.Equal(t, []UncheckedAt{{Coupling: 0}}, c.Back.Unchecked)

	// No shim to take out, and the bolt at the right of its hole, (22 - 20) / 2 = 1 mm from its middle.
	require.Len(t, c.Bound, 2)
	assert.Equal(t, BoundFoot{1, 0}, c.Bound[0])
	room := c.Rooms[1][0]
	assert.True(t, room.BaseBound)
	assert.NotEqual(t, room.BoundLeft, room.BoundRight)
	assert.False(t, math.IsInf(room.Right, 0))
}
