package readings

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// By hand, an offset of 0.05 mm and an angle of 0.1 mrad at x = 1000. Two rims 100 mm
// to either side: 0.05 + 0.1 · 0.1 = 0.06 each; they tell an angle of 2 · 0.06 / 0.2 m =
// 0.6 mrad, six times too much, so 0.01 mm each. A face of 100 mm radius turns by
// 0.1 · 0.1 = 0.01 mm, and a rim at x itself by 0.05, which tells no more than is let be. A
// rim 200 mm away has 0.05 + 0.02 = 0.07 and tells, with the face, an offset of 0.07 +
// 0.02 = 0.09: 5/9 of both.
func TestMarginsByHand(t *testing.T) {
	rim := func(x float64) *train.Dial { return &train.Dial{Kind: train.RimDial, X: x, Radius: math.NaN()} }
	face := &train.Dial{Kind: train.FaceDial, Radius: 100, X: math.NaN()}
	offsets := func(x float64) *train.Dial { return &train.Dial{Kind: train.OffsetDial, X: x} }
	for _, c := range []struct {
		name  string
		dials []*train.Dial
		want  []float64
	}{
		{"two rims", []*train.Dial{rim(900), rim(1100)}, []float64{0.01, 0.01}},
		{"offsets at two planes", []*train.Dial{offsets(900), offsets(1100)}, []float64{0.01, 0.01}},
		{"rim and face", []*train.Dial{rim(1000), face}, []float64{0.05, 0.01}},
		{"rim and face, apart", []*train.Dial{rim(1200), face}, []float64{0.07 * 5 / 9, 0.01 * 5 / 9}},
		{"one rim does not tell", []*train.Dial{rim(900)}, nil},
		{"two at one plane do not", []*train.Dial{rim(900), offsets(900)}, nil},
		{"none", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Margins(c.dials, 1000, 0.05, 0.1)
			require.Len(t, got, len(c.want))
			for i := range got {
				assert.InDelta(t, c.want[i], got[i], 1e-12)
			}
		})
	}
}

// Whatever a coupling's shafts are off by: where every dial, zeroed at 12, shows what
// it should within its margin at 3 and 9 and twice that at 6, offset and angle are
// off by no more than they may be; and some that are off by just that are let pass.
func TestMarginsHold(t *testing.T) {
	const offset, angle, x = 0.03, 0.07, 1000
	r := rand.New(rand.NewPCG(41, 0))
	dials := []*train.Dial{
		{Kind: train.RimDial, X: 870, Radius: 90, OnFrom: true, Sag: -0.05},
		{Kind: train.RimDial, X: 1160, Radius: 110, Sag: math.NaN(), Reversed: true},
		{Kind: train.FaceDial, X: math.NaN(), Radius: 120, Sag: math.NaN(), Away: true},
	}
	for _, set := range [][]*train.Dial{dials[:2], dials[1:], dials, {dials[0], dials[2]}} {
		margins := Margins(set, x, offset, angle)
		require.Len(t, margins, len(set))
		most, passed := 0.0, 0
		for range 200_000 {
			planned := train.Misalignment{V: train.Tilt{Offset: 0.04, Angle: -0.1}, H: train.Tilt{Offset: -0.02, Angle: 0.3}}
			is := planned
			by := [4]float64{}
			for i := range by {
				by[i] = (2*r.Float64() - 1) * 1.5 * [2]float64{offset, angle}[i%2]
			}
			is.V.Offset += by[0]
			is.V.Angle += by[1]
			is.H.Offset += by[2]
			is.H.Angle += by[3]
			good := true
			for j, d := range set {
				should, shows := Target(d, x, planned, []float64{0, 90, 180, 270}), Target(d, x, is, []float64{0, 90, 180, 270})
				for k, times := range [4]float64{1, 1, 2, 1} {
					good = good && math.Abs(shows[k]-should[k]) <= times*margins[j]
				}
			}
			if !good {
				continue
			}
			passed++
			for i := range by {
				most = math.Max(most, math.Abs(by[i])/[2]float64{offset, angle}[i%2])
			}
		}
		assert.Greater(t, passed, 20)
		assert.LessOrEqual(t, most, 1.005, "second order")
		if len(set) == 2 { // three may tell more than shafts can be off by
			assert.Greater(t, most, 0.75)
		}
	}
}

// Instruments that are off each by itself, so that no line of shafts fits them all: with
// each within its margin the least-squares fit is off by no more than it may be, whatever
// the weights. Solved by the normal equations of one plane.
func TestMarginsOfInstrumentsThatDisagree(t *testing.T) {
	const offset, angle = 0.03, 0.07
	r := rand.New(rand.NewPCG(42, 0))
	most := 0.0
	for range 3000 {
		dials := []*train.Dial{
			{Kind: train.RimDial, X: -200 + 150*r.Float64(), OnFrom: true, Radius: math.NaN()},
			{Kind: train.RimDial, X: 50 + 150*r.Float64(), Radius: math.NaN()},
			{Kind: train.FaceDial, X: math.NaN(), Radius: 40 + 100*r.Float64()},
			{Kind: train.OffsetDial, X: -300 + 600*r.Float64()},
		}[:3+r.IntN(2)]
		margins := Margins(dials, 0, offset, angle)
		require.Len(t, margins, len(dials))
		for range 30 {
			var aa, ab, bb, ae, be float64
			for j, d := range dials {
				row := row(d, 0, 0)
				a, b, w := row[vOffset], row[vAngle], math.Exp(4*r.Float64()-2)
				e := margins[j] * float64(2*r.IntN(2)-1)
				aa, ab, bb, ae, be = aa+w*a*a, ab+w*a*b, bb+w*b*b, ae+w*a*e, be+w*b*e
			}
			det := aa*bb - ab*ab
			most = math.Max(most, math.Max(math.Abs(ae*bb-be*ab)/det/offset, math.Abs(aa*be-ab*ae)/det/angle))
		}
	}
	assert.LessOrEqual(t, most, 1+1e-9)
	assert.Greater(t, most, 0.7, "and not much less is let be")
}
