package readings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// What was read is given back, less what stood at 12; what was not, and what was
// read as two things, is not.
func TestAsRead(t *testing.T) {
	nan := math.NaN()
	rim := func(angles, values []float64) train.Dial {
		return train.Dial{Kind: train.RimDial, X: 100, Radius: nan, Sag: -0.02, Angles: angles, Values: values}
	}
	quarters := []float64{0, 90, 180, 270}
	first := rim([]float64{0, 90, 180, 360}, []float64{0.10, 0.35, 0.05, 0.10})
	for _, c := range []struct {
		name  string
		dials []train.Dial
		want  []float64
	}{
		{"zeroed at 12, and not read at 9", []train.Dial{first}, []float64{0, 0.25, -0.05, nan}},
		{"a second pass that agrees at 3 and has 9",
			[]train.Dial{first, rim([]float64{0, 90, 180, 270}, []float64{0, 0.25, -0.04, 0.3})}, []float64{0, 0.25, nan, 0.3}},
		{"not zeroed", []train.Dial{rim([]float64{90, 180, 270}, []float64{0.1, 0.2, 0.3})}, []float64{nan, nan, nan, nan}},
		{"12 does not return", []train.Dial{rim([]float64{0, 90, 360}, []float64{0, 0.1, 0.02})},
			[]float64{nan, nan, nan, nan}},
		{"another dial", []train.Dial{{Kind: train.RimDial, X: 101, Radius: nan, Sag: -0.02, Angles: quarters,
			Values: quarters}}, []float64{nan, nan, nan, nan}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := AsRead(c.dials, &first, quarters)
			for i, want := range c.want {
				if math.IsNaN(want) {
					assert.True(t, math.IsNaN(got[i]), "at %g: %g", quarters[i], got[i])
					continue
				}
				assert.False(t, math.IsNaN(got[i]), "at %g", quarters[i])
				assert.InDelta(t, want, got[i], 1e-12)
			}
		})
	}
	instrument := train.Dial{Kind: train.OffsetDial, X: 100, V: 0.2, H: nan}
	v, h := AsReadAt([]train.Dial{instrument}, &instrument)
	assert.Equal(t, 0.2, v)
	assert.True(t, math.IsNaN(h))
}
