package readings

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/cases"
	"leastmove/train"
)

// By hand. Offsets of ±0.03 at the coupling's plane and of ±0.04 a metre on: the offset is as good as the first, the
// angle
// as sqrt(0.03² + 0.04²) over 1 m. Where their errors are not stated each counts as good to 1.96 × 0.01.
func TestAccuracyUnchecked(t *testing.T) {
	two := []train.Dial{offset(0, 0.1, 0.2), offset(1000, 0.3, 0.1)}
	k := &train.Coupling{Dials: two}
	f, _ := Reduce(k, Options{Checks: usualChecks()})
	equal(t, 1.96*0.01, f.Usual, 1e-6, "usual")
	equal(t, 1.96*0.01, f.Half.V.Offset, 1e-6, "usual")
	equal(t, 1.96*0.01*math.Sqrt2, f.Half.H.Angle, 1e-6, "usual")
	two[0].Error, two[1].Error = 0.03, 0.04
	f, _ = Reduce(k, Options{Checks: usualChecks(), Far: 500})
	assert.Zero(t, f.Usual, "all are stated")
	assert.True(t, math.IsNaN(f.Scatter), "nothing shows it")
	equal(t, 0.03, f.Half.V.Offset, 1e-12, "of the one at the coupling's plane")
	equal(t, 0.05, f.Half.V.Angle, 1e-12, "sqrt(0.03² + 0.04²) over 1 m")
	equal(t, math.Hypot(1.5*0.03, 0.5*0.04), f.FarV, 1e-12, "-500: 1.5 times the first less half the second")
	equal(t, 0.1, f.Found.V.Offset, 1e-12, "")
	equal(t, 0.2, f.Found.V.Angle, 1e-12, "")
	equal(t, -0.1, f.Found.H.Angle, 1e-12, "")
}

// By hand. The ring 12 + 6 - 3 - 9 of four readings, each with a standard error of 0.01, has one of 0.02; a ring that
// is
// off by R leaves (R / 0.02)². Two rings leave the sum of both, which in 95 of 100 sets is below -2 ln 0.05 = 5.9915.
//
//	rings        squares    spread²
//	0, 0         0          1
//	0.02, 0.04   1 + 4      1
//	0, 0.10      25         1 + (25 - 5.9915) / 2 = 10.504
//
// With a reading of the first ring left out only the second one is held against its error, with one degree of freedom:
// 1.96² = 3.8415 is what 95 of 100 stay below, so that 25 comes to 1 + 21.159.
func TestSpreadOfRings(t *testing.T) {
	fit := func(first, second float64, dials ...train.Dial) *train.Fit {
		a, b := rim(true, -100, 0, 0.1, 0.2, 0.1-first), rim(false, 100, 0, -0.1, -0.2, -0.1-second)
		if dials != nil {
			a = dials[0]
		}
		return reduce(t, 0, a, b)
	}
	equal(t, 1, fit(0, 0).Spread, 0, "no reading is better than its error")
	equal(t, 1, fit(0.02, 0.04).Spread, 0, "5 is below 5.99")
	equal(t, math.Sqrt(10.504), fit(0, 0.1).Spread, 1e-3, "25")
	three := rim(true, -100, 0, 0.1, 0.2)
	three.Angles = []float64{0, 90, 180}
	equal(t, math.Sqrt(22.159), fit(0, 0.1, three).Spread, 1e-3, "25, of one")
	equal(t, 1, fit(0, 0.039, three).Spread, 0, "1.95 standard errors")
	assert.Greater(t, fit(0, 0.04, three).Spread, 1.0, "2 of them")
	// One plane: the rim on the far hub says the sideways offset with 12, 3 and 6 alone by sqrt(1.5) × 0.01, with 9 too by
	// sqrt(0.5) × 0.01: half of it each half way between the rims.
	equal(t, 1.96*0.01*math.Hypot(math.Sqrt(0.5), math.Sqrt(0.5))/2, fit(0, 0).Half.H.Offset, 1e-6, "four and four")
	equal(t, 1.96*0.01*math.Hypot(math.Sqrt(1.5), math.Sqrt(0.5))/2, fit(0, 0, three).Half.H.Offset, 1e-6,
		"three and four")
}

// Where drawn readings agree with their errors, no reading left out makes any error of the fit smaller; where they
// contradict them the errors are larger than those by themselves.
func TestLeftOutReadingsMakeNoErrorSmaller(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 8))
	left, contradict, drawn := 0, 0, cases.Draws(100, 400)
	for n := range drawn {
		s := draw(r, n%2 == 0, [][]float64{quarters(), {0, 45, 90, 135, 180, 225, 270, 315}, {10, 80, 150, 250}}[n%3])
		noise := []float64{0.002, 0.01, 0.01, 0.03}[n%4]
		dials := append([]train.Dial{}, s.dials...)
		if n%5 == 0 { // a third instrument
			dials = append(dials, offset(120, s.m.V.Offset+0.12*s.m.V.Angle, s.m.H.Offset+0.12*s.m.H.Angle))
		}
		for i := range dials {
			d := &dials[i]
			d.V, d.H = d.V+noise*r.NormFloat64(), d.H+noise*r.NormFloat64()
			d.Values = append([]float64{}, d.Values...)
			for j := range d.Values {
				d.Values[j] += noise * r.NormFloat64()
			}
		}
		whole, refusal := Reduce(&train.Coupling{Dials: dials}, Options{Checks: usualChecks()})
		require.Nil(t, refusal)
		if whole.Spread > 1 {
			contradict++
			continue
		}
		without := func(less []train.Dial, why string) {
			fit, refusal := Reduce(&train.Coupling{Dials: less}, Options{Checks: usualChecks()})
			if refusal != nil {
				return
			}
			left++
			was, is := stateOf(whole.Half), stateOf(fit.Half)
			for k := range was {
				assert.GreaterOrEqual(t, is[k], was[k]*(1-1e-3), "%d without %s: unknown %d", n, why, k)
			}
		}
		for i := range dials {
			without(append(append([]train.Dial{}, dials[:i]...), dials[i+1:]...), fmt.Sprint("dial ", i))
			for j := range dials[i].Values {
				less := append([]train.Dial{}, dials...)
				d := &less[i]
				d.Values = append(append([]float64{}, d.Values[:j]...), d.Values[j+1:]...)
				d.Angles = append(append([]float64{}, d.Angles[:j]...), d.Angles[j+1:]...)
				without(less, fmt.Sprint("reading ", j, " of dial ", i))
			}
		}
	}
	assert.Greater(t, left, 5*drawn)
	assert.Greater(t, contradict, drawn/8, "noise of 0.03 is three times the usual")
	assert.Less(t, contradict, 3*drawn/8)
}
