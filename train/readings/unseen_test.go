package readings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// A ring of four positions closes or not; one of three does neither, and has as many unknowns (its zero, up, left) as
// readings, unless other dials measure the same. By hand: rim and face of four leave a freedom each; three rims of
// three positions have 9 readings and 7 unknowns.
func TestUnseen(t *testing.T) {
	dial := func(kind train.DialKind, x float64, angles ...float64) train.Dial {
		return train.Dial{Kind: kind, X: x, Radius: 100, Sag: math.NaN(), Angles: angles, Values: make([]float64,
			len(angles))}
	}
	four, three := []float64{0, 90, 180, 270}, []float64{0, 90, 180}
	rim := func(x float64, angles []float64) train.Dial { return dial(train.RimDial, x, angles...) }
	face := func(angles []float64) train.Dial { return dial(train.FaceDial, 0, angles...) }
	for _, c := range []struct {
		name  string
		dials []train.Dial
		want  []int
	}{
		{"rim and face close", []train.Dial{rim(0, four), face(four)}, nil},
		{"the rim of three does not", []train.Dial{rim(0, three), face(four)}, []int{0}},
		{"neither", []train.Dial{rim(0, three), face(three)}, []int{0, 1}},
		{"three rims check each other", []train.Dial{rim(0, three), rim(200, three), rim(400, three)}, nil},
		{"instruments that give offsets have no ring", []train.Dial{
			{Kind: train.OffsetDial, X: 0}, {Kind: train.OffsetDial, X: 200}}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, Unseen(&train.Coupling{X: 100, Dials: c.dials}))
		})
	}
}
