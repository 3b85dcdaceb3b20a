package readings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

func pair() *train.Train {
	return &train.Train{Machines: []train.Machine{
		{Name: "motor", Shafts: make([]train.Shaft, 1), Feet: []train.Foot{{X: -900}, {X: -200}}},
		{Name: "pump", Shafts: make([]train.Shaft, 1), Feet: []train.Foot{{X: 300}, {X: 600}}},
	}}
}

// Sets that cannot tell what they are asked for are refused with figures.
func TestRefused(t *testing.T) {
	arc := func(angles ...float64) train.Dial {
		d := rim(false, 100, make([]float64, len(angles))...)
		d.Angles = angles
		return d
	}
	sound := rim(true, -100, 0, 0, 0, 0)
	for _, c := range []struct {
		why   string
		dials []train.Dial
		want  RefusalKind
		says  string
		hint  string
	}{
		{"two positions", []train.Dial{sound, arc(0, 180)}, FewPositions,
			`the rim dial on "pump" at x = 100 was read at 2 of the 3 positions that it needs`, "9, 12 and 3"},
		{"the same position three times", []train.Dial{sound, arc(0, 90, 360, 450)}, FewPositions, "at 2 of the 3", ""},
		{"an arc of 40 degrees", []train.Dial{sound, arc(0, 20, 40)}, ShortArc,
			// sqrt(3/2) / (1 - cos 20): see TestGain.
			`all positions of the rim dial on "pump" at x = 100 lie within 40 degrees: an error of a reading becomes 20.3 times as large in the offset, at most 6 times is allowed`, "half a turn"},
		{"an arc of 40 degrees, across 12, at 9 positions", []train.Dial{sound, arc(340, 345, 350, 355, 0, 5, 10, 15, 20)},
			ShortArc, "lie within 40 degrees", ""},
		{"one plane alone", []train.Dial{sound}, NoAngle, `the readings of coupling "main" can't tell the angle`, "a face"},
		{"two rims at one plane", []train.Dial{rim(true, 50, 0, 0, 0, 0), rim(false, 50, 0, 0, 0, 0)}, NoAngle,
			"all at one plane", ""},
		{"a face alone", []train.Dial{face(100, 0, 0, 0, 0)}, NoOffset, "can't tell the offset", "a rim too"},
		// An offset from four positions: error 0.01 × sqrt(1/2); the angle from
		// two, 10 mm apart: 1.96 × 0.01 / 10 = 1.96 mrad. The farthest foot is 900
		// mm from the coupling, 905 from the middle of the planes: 1.774 mm.
		{"planes too close", []train.Dial{rim(true, 0, 0, 0, 0, 0), rim(false, 10, 0, 0, 0, 0)}, NearPlanes,
			"the angle well enough: from planes only 10 mm apart it may be 1.96 mrad off (95 %), which is 1.77 mm at the " +
				"farthest foot; at most 1 mrad is allowed", "farther apart"},
		// Slope from four positions: 1.96 × 0.01 × sqrt(1/2) / 12 mm = 1.155 mrad.
		{"a face of too small a radius", []train.Dial{sound, face(12, 0, 0, 0, 0)}, NearPlanes,
			"from a face of radius 12 mm it may be 1.15 mrad off", "larger radius"},
	} {
		k := train.Coupling{Name: "main", From: train.End{Machine: 0}, To: train.End{Machine: 1}, Dials: c.dials}
		fit, refusal := Reduce(&k, OptionsOf(pair(), &k))
		require.NotNil(t, refusal, c.why)
		assert.Nil(t, fit, c.why)
		assert.Equal(t, c.want, refusal.Kind, c.why)
		message, hint := refusal.Words(pair(), &k)
		assert.Contains(t, message, c.says, c.why)
		assert.Contains(t, hint, c.hint, c.why)
	}
}

// The gain of three positions symmetrical about 12, at -b, 0, b: the sideways
// one is 1 / (sin b sqrt(2)); up is (r0 - mean of the others) / (1 - cos b),
// error sqrt(3/2) / (1 - cos b).
func TestGain(t *testing.T) {
	for _, b := range []float64{90, 45, 20} {
		d := rim(false, 0)
		d.Angles = []float64{-b, 0, b}
		d.Values = make([]float64, 3)
		sin, cos := math.Sincos(b * math.Pi / 180)
		equal(t, math.Max(math.Sqrt(1.5)/(1-cos), 1/(sin*math.Sqrt2)), gain(&d), 1e-9, "by hand")
		equal(t, 2*b, arc(&d), 1e-9, "arc")
	}
}

// Just inside what is allowed is not refused.
func TestNotRefused(t *testing.T) {
	for why, dials := range map[string][]train.Dial{
		"planes 20 mm apart: 0.98 mrad": {rim(true, 0, 0, 0, 0, 0), rim(false, 20, 0, 0, 0, 0)},
		"a face of 14 mm: 0.99 mrad":    {rim(true, 0, 0, 0, 0, 0), face(14, 0, 0, 0, 0)},
		"offsets at two planes":         {offset(0, 0.1, 0.2), offset(100, 0.1, 0.2)},
	} {
		fit, refusal := Reduce(&train.Coupling{Dials: dials}, Options{Checks: usualChecks()})
		require.Nil(t, refusal, why)
		assert.NotNil(t, fit, why)
	}
}

// A poor instrument counts for less: offsets 0 and 1 at one plane with errors 0.1
// and 0.3 come to 0.1, weights being 1/error².
func TestWeights(t *testing.T) {
	a, b, c := offset(0, 0, 0), offset(0, 1, 1), offset(1000, 0, 0)
	a.Error, b.Error, c.Error = 0.1, 0.3, 0.1
	f := reduce(t, 0, a, b, c)
	equal(t, 0.1, f.Found.V.Offset, 1e-12, "weighted mean")
	equal(t, -0.1, f.Found.H.Angle, 1e-12, "to 0 at 1 m")
}
