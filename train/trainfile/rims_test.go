package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Both reverse dials on one shaft with the coupling between them: nothing else in the file shows it, and the plan
// would make the couplings worse.
func TestReverseDialsOnOneShaft(t *testing.T) {
	other := func(from, to string) func(string) string {
		return func(text string) string { return strings.Replace(text, from, to, 1) }
	}
	const compressor, pinion = "on    = \"compressor\"\nx     = 103", "on    = \"gear/pinion\"\nx     = 90"
	for _, c := range []struct {
		why    string
		change func(string) string
		says   string // empty: no error
		hint   string
	}{
		{"spacer, both on the shaft before it", other(compressor, "on    = \"gear/pinion\"\nx     = 103"),
			`the rims at 90 inch and at 103 inch are both on "gear/pinion", and coupling "high" is between them, at 91 inch to 102 inch`,
			`write on = "compressor" for the rim at 103 inch`},
		{"spacer, both on the shaft after it", other(pinion, "on    = \"compressor\"\nx     = 90"),
			`the rims at 90 inch and at 103 inch are both on "compressor"`, `write on = "gear/pinion" for the rim at 90 inch`},
		{"hubs that reach in between the flex planes, by less than a quarter", func(text string) string {
			text = strings.Replace(text, compressor, "on    = \"gear/pinion\"\nx     = 100", 1)
			return strings.Replace(text, pinion, "on    = \"gear/pinion\"\nx     = 93", 1)
		}, `the rims at 93 inch and at 100 inch are both on "gear/pinion"`, ""},
		{"no spacer", other("on    = \"gear/wheel\"\nx     = 54.5", "on    = \"motor\"\nx     = 54.5"),
			`the rims at 47.5 inch and at 54.5 inch are both on "motor", and coupling "low" is between them, at 51 inch`,
			`write on = "gear/wheel" for the rim at 54.5 inch`},
		{"one rim at each shaft, as it should be", other("units", "units "), "", ""},
		{"a rim in the middle of the spacer", other(compressor, "on    = \"gear/pinion\"\nx     = 96"), "", ""},
		{"two rims on one hub", other(compressor, "on    = \"gear/pinion\"\nx     = 82"), "", ""},
	} {
		text := c.change(geared(t))
		require.NotEqual(t, geared(t), text, c.why)
		train, report := Read("geared.toml", []byte(text), options)
		if c.says == "" {
			assert.NotNil(t, train, "%s: %s", c.why, report)
			continue
		}
		assert.Nil(t, train, c.why)
		assert.Contains(t, report.String(), c.says, c.why)
		assert.Contains(t, report.String(), c.hint, c.why)
	}
}
