package readings

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// testdata/fits.json holds fits of invented readings by NumPy's least squares;
// testdata/fits.py, beside it, made it from equations of its own. It has none of
// the second order, so that dials here have no radius and offsets are scaled
// down to where that counts for nothing; the fit is linear, and scales along.
func TestFitsAgainstNumPy(t *testing.T) {
	text, err := os.ReadFile("testdata/fits.json")
	require.NoError(t, err)
	var cases []struct {
		X       float64
		Freedom int
		Dials   []struct {
			Kind                   string
			X, Radius, Error, V, H float64
			Angles, Values         []float64
		}
		Found, Standard []float64
	}
	require.NoError(t, json.Unmarshal(text, &cases))
	require.Len(t, cases, 40)
	const small = 1e-4
	for i, c := range cases {
		var dials []train.Dial
		for _, d := range c.Dials {
			dial := train.Dial{X: d.X, Radius: nan, Sag: nan, Set: 1, Error: d.Error * small, V: d.V * small, H: d.H * small,
				Angles: d.Angles}
			for _, v := range d.Values {
				dial.Values = append(dial.Values, v*small)
			}
			switch d.Kind {
			case "rim-from", "rim-to":
				dial.OnFrom = d.Kind == "rim-from"
			case "face":
				dial.Kind, dial.Radius = train.FaceDial, d.Radius
			case "offset":
				dial.Kind = train.OffsetDial
			}
			dials = append(dials, dial)
		}
		f := reduce(t, c.X, dials...)
		require.Equal(t, c.Freedom, f.Freedom, "case %d", i)
		scale := 1.0 // NumPy's standard errors are by the residuals where there are any
		if c.Freedom > 0 {
			scale = f.Scatter / usualError
		}
		found := stateOf(f.Found)
		standard := state{scale * math.Sqrt(f.CovV.Offset), scale * math.Sqrt(f.CovV.Angle),
			scale * math.Sqrt(f.CovH.Offset), scale * math.Sqrt(f.CovH.Angle)}
		for k := range found {
			equal(t, c.Found[k], found[k]/small, 1e-6, "found")
			equal(t, c.Standard[k], standard[k]/small, 1e-6, "standard error")
		}
	}
}
