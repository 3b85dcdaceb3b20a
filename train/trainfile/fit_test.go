package trainfile

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train/readings"
)

// The reader keeps the fit of every coupling that was read, and the survey of a train with points: what was found
// is the fit's, and what is kept says the same as one that is worked out from the finished train.
func TestFitsAreKept(t *testing.T) {
	fits, surveys := 0, 0
	for _, name := range []string{"turbine", "survey"} {
		text, err := os.ReadFile("../../examples/" + name + "/before.toml")
		require.NoError(t, err)
		with := options
		with.File = func(string) ([]byte, error) { return []byte("0, 0\n90, 0.1\n180, 0.2\n270, 0.1\n"), nil }
		tr, report := Read(name, text, with)
		require.NotNil(t, tr, report.String())
		for i := range tr.Couplings {
			c := &tr.Couplings[i]
			if len(c.Dials) == 0 {
				assert.Nil(t, c.Fit, c.Name)
				continue
			}
			fits++
			anew, refusal := readings.Reduce(c, readings.OptionsOf(tr, c))
			require.Nil(t, refusal, c.Name)
			require.NotNil(t, c.Fit, c.Name)
			assert.Equal(t, anew.Found, c.Found, c.Name)
			assert.Equal(t, anew.Half, c.Fit.Half, c.Name)
			assert.Len(t, c.Fit.Dials, len(c.Dials), c.Name)
		}
		if !tr.Pointed() {
			assert.Nil(t, tr.Survey, name)
			continue
		}
		surveys++
		require.NotNil(t, tr.Survey, name)
		assert.Len(t, tr.Survey.Couplings, len(readings.LinesOf(tr).Complete(tr).Couplings), name)
	}
	assert.Greater(t, fits, 1, "couplings that were read")
	assert.Equal(t, 1, surveys, "trains with points")
}
