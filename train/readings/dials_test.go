package readings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

var nan = math.NaN()

// quarters are 12, 3, 6 and 9 o'clock in degrees.
func quarters() []float64 { return []float64{0, 90, 180, 270} }

// rim is a rim dial in mm, without radius and sag, read at 12, 3, 6 and 9.
func rim(onFrom bool, x float64, values ...float64) train.Dial {
	return train.Dial{Kind: train.RimDial, OnFrom: onFrom, X: x, Radius: nan, Sag: 0, Set: 1, Angles: quarters(),
		Values: values, V: nan, H: nan}
}

// face is a face dial in mm that looks at the gap, read at 12, 3, 6 and 9.
func face(radius float64, values ...float64) train.Dial {
	return train.Dial{Kind: train.FaceDial, X: nan, Radius: radius, Sag: nan, Set: 1, Angles: quarters(), Values: values,
		V: nan, H: nan}
}

func offset(x, v, h float64) train.Dial {
	return train.Dial{Kind: train.OffsetDial, X: x, Radius: nan, Sag: nan, Set: 1, V: v, H: h}
}

// mils turns mils into mm.
func mils(values ...float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v * train.Mil
	}
	return out
}

func reduce(t *testing.T, x float64, dials ...train.Dial) *train.Fit {
	t.Helper()
	f, refusal := Reduce(&train.Coupling{X: x, Dials: dials}, Options{Checks: usualChecks()})
	require.Nil(t, refusal)
	return f
}

// equal asserts that a number is finite and near another.
func equal(t *testing.T, want, got, within float64, why string) {
	t.Helper()
	assert.False(t, math.IsNaN(got) || math.IsInf(got, 0), why)
	assert.InDelta(t, want, got, within, why)
}

// The signs of train-file readings, one by one: a To shaft 0.1 mm high, or 0.1
// mm to the left, or sloping up or pointing left by 1 mrad, seen by each kind of dial
// zeroed at 12. By hand from the equations of the package comment.
func TestSigns(t *testing.T) {
	high := train.Misalignment{V: train.Tilt{Offset: 0.1}}
	left := train.Misalignment{H: train.Tilt{Offset: 0.1}}
	rising := train.Misalignment{V: train.Tilt{Angle: 1}}
	turns := train.Misalignment{H: train.Tilt{Angle: 1}}
	onTo, onFrom := rim(false, 0), rim(true, 0)
	toGap := face(100)
	away := face(100)
	away.Away = true
	reversed := rim(false, 0)
	reversed.Reversed = true
	sagging := rim(false, 0)
	sagging.Sag = -0.06
	further := rim(false, 200)
	for _, c := range []struct {
		why  string
		dial train.Dial
		m    train.Misalignment
		want []float64 // at 12, 3, 6, 9
	}{
		{"a rim of To that stands high reads minus at the bottom", onTo, high, []float64{0, -0.1, -0.2, -0.1}},
		{"to the left: in at 9, out at 3", onTo, left, []float64{0, -0.1, 0, 0.1}},
		{"a rim of From is low where To is high", onFrom, high, []float64{0, 0.1, 0.2, 0.1}},
		{"and to the right where To is to the left", onFrom, left, []float64{0, 0.1, 0, -0.1}},
		{"a face that slopes up: gap wider at the bottom, minus 2 × radius × slope", toGap, rising, []float64{0, -0.1, -0.2,
			-0.1}},
		{"a face that points left: gap wider on the right", toGap, turns, []float64{0, -0.1, 0, 0.1}},
		{"the face on the other side", away, rising, []float64{0, 0.1, 0.2, 0.1}},
		{"a dial that reads the other way", reversed, high, []float64{0, 0.1, 0.2, 0.1}},
		{"sag alone: all of it at the bottom, half at the sides", sagging, train.Misalignment{},
			[]float64{0, -0.03, -0.06, -0.03}},
		{"a rim 200 mm further along a line that slopes up by 1 mrad is 0.2 high", further, rising, []float64{0, -0.2, -0.4,
			-0.2}},
	} {
		got := Target(&c.dial, 0, c.m, quarters())
		for i := range got {
			equal(t, c.want[i], got[i], 1e-12, c.why)
		}
	}
}

// The same state seen at any three positions, or zeroed anywhere, is the same.
func TestZeroAnywhere(t *testing.T) {
	m := train.Misalignment{V: train.Tilt{Offset: 0.3, Angle: -0.4}, H: train.Tilt{Offset: -0.2, Angle: 0.7}}
	for _, angles := range [][]float64{{0, 90, 180, 270}, {180, 270, 0, 90}, {270, 0, 90}, {10, 100, 250},
		{-90, 360, 450}, {0, 45, 90, 120, 135, 180}} {
		a, b := rim(true, -100), rim(false, 120)
		for _, d := range []*train.Dial{&a, &b} {
			d.Angles = angles
			d.Values = Target(d, 0, m, angles)
		}
		f := reduce(t, 0, a, b)
		equal(t, 0.3, f.Found.V.Offset, 1e-9, "v")
		equal(t, -0.4, f.Found.V.Angle, 1e-9, "v")
		equal(t, -0.2, f.Found.H.Offset, 1e-9, "h")
		equal(t, 0.7, f.Found.H.Angle, 1e-9, "h")
		assert.Empty(t, f.Checks)
	}
}

// A sag that the file gives as the true one or as the sag bar's is for the
// dial's own direction; a reversed dial has its own sign.
func TestReversedDialTakesItsOwnSag(t *testing.T) {
	a := rim(false, 0, 0, -0.13, -0.26, -0.13) // 0.1 high, and sag of 0.03 at the sides
	a.Sag = -0.06
	b := rim(false, 0, 0, 0.13, 0.26, 0.13)
	b.Sag, b.Reversed = 0.06, true
	for _, d := range []train.Dial{a, b} {
		f := reduce(t, 0, d, face(100, 0, 0, 0, 0))
		equal(t, 0.1, f.Found.V.Offset, 1e-12, "v")
		equal(t, 0, f.Found.H.Offset, 1e-12, "h")
	}
}
