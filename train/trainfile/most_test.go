package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What one machine, coupling or reading may have at most, and where a reading may
// be: one more, or further, is refused with its place; as much is read.
func TestMostOfOneThing(t *testing.T) {
	found := "[coupling.found]"
	text := sound(t)
	require.Equal(t, 1, strings.Count(text, found))
	unread := text[:strings.Index(text, found)]
	reading := func(x, on, angles string) string {
		return fmt.Sprintf("[[coupling.reading]]\nkind = \"rim\"\non = %q\nx = %s\n%s\n", on, x, angles)
	}
	const clock = "clock = { 12 = 0, 3 = 0.01, 6 = 0.02, 9 = 0.01 }"
	sweep := func(n int) string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprintf("[%g, 0.01]", 360*float64(i)/float64(n)))
		}
		return "sweep = [" + strings.Join(all, ", ") + "]"
	}
	for _, c := range []struct{ why, text, says string }{
		{"200 readings", unread + strings.Repeat(reading("1250", "pump", clock), mostReadings), ""},
		{"201 readings", unread + strings.Repeat(reading("1250", "pump", clock), mostReadings+1), `coupling "main" has 201 readings, at most 200 are read`},
		{"400 positions", unread + reading("1250", "pump", sweep(mostPositions)), ""},
		{"401 positions", unread + reading("1250", "pump", sweep(mostPositions+1)), "sweep has 401 positions, at most 400 are read"},
		{"far off", unread + reading("70000", "pump", clock), "x is 70000 mm, 68750 mm from the plane of coupling \"main\""},
		{"on another shaft", unread + reading("1250", "none", clock), "none"},
	} {
		t.Run(c.why, func(t *testing.T) {
			got, report := Read("train.toml", []byte(c.text), options)
			if c.says == "" {
				assert.NotContains(t, report.String(), "at most")
				return
			}
			assert.Nil(t, got)
			assert.Contains(t, report.String(), c.says)
		})
	}
}
