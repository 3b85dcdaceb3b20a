package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A case whose left side warms more than its right rolls: by 0.1 mrad here,
// left side up. By hand, with d = r × p (model of the package comment): the
// shaft 200 mm left of the centreline rises by 0.1 × 0.2 = 0.02 mm, and being
// 500 + 100 mm above the shims it goes 0.1 × 0.6 = 0.06 mm to the right. The
// other shaft, on the centreline and 500 mm up, does not rise and goes 0.05 mm
// to the right. It takes the roll wherever along it one looks, so no angle
// comes of it.
func TestAnUnevenlyWarmCaseCarriesItsShaftsSideways(t *testing.T) {
	feet := []Foot{{X: 0, Y: 400}, {X: 0, Y: -400}, {X: 800, Y: 400}, {X: 800, Y: -400}}
	tr := &Train{
		Machines: []Machine{
			{Height: 500, Shafts: []Shaft{{}}, Feet: feet},
			{At: 1500, Height: 500, Shafts: []Shaft{{Y: 200, Z: 100}, {}}, Feet: feet, Growth: Growth{Roll: 0.1}},
			{At: 3000, Height: 500, Shafts: []Shaft{{}}, Feet: feet},
		},
		Couplings: []Coupling{
			{From: End{0, 0}, To: End{1, 0}, X: 1300},
			{From: End{1, 1}, To: End{2, 0}, X: 2700},
		},
		Conditions: []Condition{{Growth: []float64{1, 1, 1}}},
	}
	state := tr.Check(tr.Stay())
	for i, want := range []Misalignment{
		{V: Tilt{Offset: 0.02}, H: Tilt{Offset: -0.06}},
		{H: Tilt{Offset: 0.05}}, // the gear is the From shaft: what it does counts the other way
	} {
		linear, _ := tr.AsFound(i, 0)
		for way, got := range map[string]Misalignment{"linear": linear, "true geometry": state.Couplings[i][0].Misalignment} {
			assert.InDelta(t, want.V.Offset, got.V.Offset, 1e-9, way)
			assert.InDelta(t, want.H.Offset, got.H.Offset, 1e-9, way)
			assert.InDelta(t, 0, got.V.Angle, 1e-9, way)
			assert.InDelta(t, 0, got.H.Angle, 1e-9, way)
		}
	}
}
