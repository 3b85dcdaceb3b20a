package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A gear case 600 mm high at the centreline, its pinion 250 mm to the right and 20 mm up, its wheel 150 mm to the
// left: by hand, 2 mrad left side up lift the wheel by 0.30 mm and lower the pinion by 0.50 mm, and take them
// 1.20 and 1.24 mm to the right.
func TestRolled(t *testing.T) {
	m := Machine{Height: 600, Shafts: []Shaft{{Y: -250, Z: 20}, {Y: 150}}}
	for n, want := range [][2]float64{{-0.50, -1.24}, {0.30, -1.20}} {
		up, left := m.Rolled(n, 2)
		assert.InDelta(t, want[0], up, 1e-12, n)
		assert.InDelta(t, want[1], left, 1e-12, n)
	}
}

// Growth by hand, 400 mm along the machine: up 0.30 + 0.0004 × 400 = 0.46 mm and 0.30 more of the roll; left 0.10 mm
// less 1.20 of the roll; along 0.20 + 0.001 × 400 = 0.60 mm. The journal shift is left out. A shaft with growth of
// its own goes by that alone.
func TestGrown(t *testing.T) {
	own := Growth{V: Line{Start: 0.05}}
	tr := Train{Machines: []Machine{{At: 1000, Height: 600,
		Growth: Growth{V: Line{Start: 0.30, Slope: 0.4}, H: Line{Start: 0.10}, A: Line{Start: 0.20, Slope: 1}, Roll: 2},
		Shafts: []Shaft{{Y: 150, Run: Shift{V: 0.09, H: 0.07}}, {Y: -250, Growth: &own}},
	}}}
	up, left, axial := tr.Grown(End{}, 1400)
	assert.InDelta(t, 0.76, up, 1e-12)
	assert.InDelta(t, -1.10, left, 1e-12)
	assert.InDelta(t, 0.60, axial, 1e-12)
	up, left, axial = tr.Grown(End{Shaft: 1}, 1400)
	assert.Equal(t, [3]float64{0.05, 0, 0}, [3]float64{up, left + 0, axial})
}
