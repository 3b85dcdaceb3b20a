package readings

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// Reverse dials 200 mm apart. By hand: a rim that reads 0.4 and -0.4 at 3 and 9 sits 0.4 to a side, another with 0.5
// 0.1 over 200 mm are 0.5 mrad, 0.9 over 200 mm are 4.5. Vertically they read alike.
func TestIfSwapped(t *testing.T) {
	dials := func(right, left float64) []train.Dial {
		return []train.Dial{rim(true, -100, 0, 0.4, 0, -0.4), rim(false, 100, 0, right, 0, left)}
	}
	limits := train.Limit{Offset: 0.05, Angle: 0.5}
	for _, c := range []struct {
		why   string
		right float64
		limit float64
		want  float64 // mrad, size; 0: not striking
	}{
		{"as they are: the angle is the smaller one", -0.5, limits.Angle, 0},
		{"swapped: 4.5 mrad for 0.5", 0.5, limits.Angle, 0.5},
		{"within the limit, whichever it is", 0.5, 5, 0},
		{"one dial reads nearly nothing: both ways come to about the same", 0.05, limits.Angle, 0},
	} {
		limits.Angle = c.limit
		got, striking := IfSwapped(&train.Coupling{X: 0, Limit: limits, Dials: dials(c.right, -c.right)})
		assert.Equal(t, c.want != 0, striking, c.why)
		if striking {
			assert.InDelta(t, c.want, max(got, -got), 1e-5, c.why)
		}
	}
	limits.Angle = 0.5
	checked := append(dials(0.5, -0.5), face(100, 0, 0, 0, 0))
	_, striking := IfSwapped(&train.Coupling{X: 0, Limit: limits, Dials: checked})
	assert.False(t, striking, "a face dial checks the sides: its residuals tell")
}
