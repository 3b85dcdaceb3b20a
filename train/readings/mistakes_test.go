package readings

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/cases"
	"leastmove/train"
)

// A pump 0.4 mm high and 0.3 mm to the left at the coupling's plane, that slopes up 1 mrad and points right 1 mrad, by
// the equations of the package comment: 0.5 high and 0.2 left at x = 100, 0.3 high and 0.4 left at x = -100, and a
// face of radius 100 mm shows 0.1 mm of each slope. Each dial is zeroed at 12.
func threeDials() []train.Dial {
	return []train.Dial{rim(true, -100, 0, 0.7, 0.6, -0.1), rim(false, 100, 0, -0.7, -1.0, -0.3),
		face(100, 0, 0, -0.2, -0.2)}
}

// mistaken are the mistakes that explain what fails among some dials.
func mistaken(t *testing.T, dials ...train.Dial) (*train.Coupling, []train.Mistake) {
	t.Helper()
	c := &train.Coupling{Name: "main", From: train.End{Machine: 0}, To: train.End{Machine: 1}, FoundGap: nan, Dials: dials}
	fit, refusal := Reduce(c, Options{Checks: usualChecks()})
	require.Nil(t, refusal)
	fit.Mistakes = Mistakes(c, fit, usualChecks())
	c.Fit = fit
	return c, fit.Mistakes
}

// One slip at a time in three dials of which two would do: it is named, in words.
func TestMistakesAreNamed(t *testing.T) {
	c, none := mistaken(t, threeDials()...)
	assert.Empty(t, none)
	message, _ := MistakeWords(pair(), c)
	assert.Empty(t, message)
	for _, m := range []struct {
		why    string
		change func(d []train.Dial)
		says   string
	}{
		{"the face's sign", func(d []train.Dial) { d[2].Values = []float64{0, 0, 0.2, 0.2} },
			`would all agree if the face dial on "pump" had the other sign: pushed_in, or away`},
		{"the face said to look away", func(d []train.Dial) { d[2].Away = true },
			`the face dial on "pump" had the other sign`},
		{"3 and 9 of one rim", func(d []train.Dial) { d[1].Values = []float64{0, -0.3, -1.0, -0.7} },
			`the rim dial on "pump" at x = 100 had 3 and 9 swapped`},
		{"one rim negated", func(d []train.Dial) { d[0].Values = []float64{0, -0.7, -0.6, 0.1} },
			`the rim dial on "motor" at x = -100 had the other sign`},
		{"0.6 typed as 0.06", func(d []train.Dial) { d[0].Values[2] = 0.06 },
			`the rim dial on "motor" at x = -100 at 180 degrees read 0.6 mm in place of 0.06 mm`},
		{"the sign of one reading", func(d []train.Dial) { d[1].Values[3] = 0.3 },
			`the rim dial on "pump" at x = 100 at 270 degrees read -0.3 mm in place of 0.3 mm`},
	} {
		dials := threeDials()
		m.change(dials)
		c, found := mistaken(t, dials...)
		require.Len(t, found, 1, m.why)
		message, hint := MistakeWords(pair(), c)
		assert.Contains(t, message, m.says, m.why)
		assert.NotEmpty(t, hint)
	}
	// An offset from another instrument beside two rims: 0.4 high and 0.3 left at x = 0.
	for says, wrong := range map[string]train.Dial{
		"v of the offset read at x = 0 had the other sign":            offset(0, -0.4, 0.3),
		"h of the offset read at x = 0 had the other sign":            offset(0, 0.4, -0.3),
		"the offset read at x = 0, v read 0.4 mm in place of 0.04 mm": offset(0, 0.04, 0.3),
		"the offset read at x = 0, h read 0.3 mm in place of 3 mm":    offset(0, 0.4, 3),
	} {
		c, found := mistaken(t, append(threeDials()[:2], wrong)...)
		require.NotEmpty(t, found, says)
		message, _ := MistakeWords(pair(), c)
		assert.Contains(t, message, says)
	}
	// Two slips are explained by no single one.
	dials := threeDials()
	dials[0].Values[2], dials[1].Values[3] = 0.06, 0.3
	_, found := mistaken(t, dials...)
	assert.Empty(t, found)
}

// Over drawn sets of four dials with noise of 0.003 mm a slip that a check sees is named, and it is the first.
func TestDrawnMistakesAreNamed(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 1))
	seen := 0
	for n := range cases.Draws(60, 200) {
		var s train.Misalignment
		for _, v := range []*train.Tilt{&s.V, &s.H} {
			v.Offset, v.Angle = 1.5*(rng.Float64()-0.5), 4*(rng.Float64()-0.5)
		}
		dials := []train.Dial{rim(true, -110), rim(false, 90), face(120), rim(false, 300)}
		for i := range dials {
			dials[i].Values = Target(&dials[i], 0, s, quarters())
			for k := range dials[i].Values {
				dials[i].Values[k] += 0.003 * rng.NormFloat64()
			}
		}
		at := rng.IntN(len(dials))
		d, kind := &dials[at], train.MistakeKind(rng.IntN(3))
		switch kind {
		case train.MistakeSign:
			for k := range d.Values {
				d.Values[k] = -d.Values[k]
			}
		case train.MistakeSides:
			d.Values[1], d.Values[3] = d.Values[3], d.Values[1]
		case train.MistakeValue:
			d.Values[1+rng.IntN(3)] /= 10
		}
		c, found := mistaken(t, dials...)
		before := 0.0
		for i := range c.Dials {
			for _, r := range c.Fit.Dials[i].Residual {
				before = math.Max(before, math.Abs(r))
			}
		}
		if before < 0.1 {
			continue // too small a slip to be told from noise
		}
		seen++
		require.NotEmpty(t, found, "draw %d: %v of dial %d", n, kind, at)
		assert.Equal(t, at, found[0].Dial, "draw %d", n)
		assert.Equal(t, kind, found[0].Kind, "draw %d", n)
	}
	assert.Greater(t, seen, cases.Draws(24, 80))
}

// What no other reading can check: of a rim and a face each, of reverse dials each; of three nothing.
func TestUnchecked(t *testing.T) {
	unchecked := func(dials ...train.Dial) []int { return Unchecked(&train.Coupling{Dials: dials}) }
	three := threeDials()
	assert.Equal(t, []int{0, 1}, unchecked(three[1], three[2]), "a rim and a face")
	assert.Equal(t, []int{0, 1}, unchecked(three[0], three[1]), "reverse dials")
	assert.Empty(t, unchecked(three...), "reverse dials and a face")
	assert.Equal(t, []int{2}, unchecked(three[0], rim(true, -100, 0, 0.7, 0.6, -0.1), three[2]), "two rims at one plane")
	assert.Equal(t, []int{0, 1}, unchecked(offset(0, 1, 1), offset(200, 1, 1)), "two offsets")
	// What Unchecked says and what the checks see are the same: swapped sides of a dial that is not checked pass.
	for _, dials := range [][]train.Dial{{three[1], three[2]}, {three[0], three[1]}, three} {
		for i := range dials {
			wrong := slices.Clone(dials)
			wrong[i].Values = slices.Clone(wrong[i].Values)
			wrong[i].Values[1], wrong[i].Values[3] = wrong[i].Values[3], wrong[i].Values[1]
			c, _ := mistaken(t, wrong...)
			assert.Equal(t, slices.Contains(unchecked(dials...), i), !disagree(c.Fit.Checks), "%d of %d", i, len(dials))
		}
	}
}
