package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
)

// Two dials on the rims of a motor and a gear; lengths that go together.
const fitting = `title = "lengths that go together (invented)"
units = "mm"
[[machine]]
name = "motor"
height = 450
growth = [{ v = 0.1 }]
foot = [{ name = "a", x = 0, spread = 700 }, { name = "b", x = 1000, spread = 700 }]
[[machine]]
name = "gear"
at = 1800
height = 400
growth = [{ v = 0.1 }]
shaft = [{ name = "in", y = 150 }, { name = "out", y = -150 }]
foot = [{ name = "c", x = 0, spread = 600 }, { name = "d", x = 900, spread = 600 }]
[[coupling]]
name = "c"
from = "motor"
to = "gear/in"
x = 1400
limit = { offset = 0.05, angle = 0.5 }
[[coupling.reading]]
kind = "rim"
on = "gear/in"
x = 1500
sag = -0.05
clock = { 12 = 0.00, 3 = -0.16, 6 = -0.20, 9 = -0.04 }
[[coupling.reading]]
kind = "rim"
on = "motor"
x = 1350
sag = -0.05
clock = { 12 = 0.00, 3 = -0.10, 6 = -0.24, 9 = -0.14 }
`

// A figure typed ten times off, each with the one warning that it gets, and sizes that are rare but right without.
func TestLengthsThatDoNotGoTogether(t *testing.T) {
	for _, c := range []struct{ from, to, says string }{
		{"", "", ""},
		{"height = 450", "height = 4000", `"motor" is 4000 mm high, and its feet stand 1000 mm apart at most`},
		{"height = 450", "height = 40", `"motor" is 40 mm high, and the other machines of this train about 400 mm`},
		{"height = 450", "height = 1500", ""},
		{"height = 450", "height = 120", ""},
		{"x = 900, ", "x = 9000, ", `the feet of "gear" stand 9000 mm apart along the train and 600 mm across it`},
		{"x = 900, ", "x = 90, ", `the feet of "gear" stand 90 mm apart along the train and 600 mm across it`},
		{"x = 900, ", "x = 4500, ", ""},
		{"x = 900, ", "x = 150, ", ""},
		{"x = 900, spread = 600", "x = 900, spread = 60", `one pair of feet of "gear" stands 60 mm apart, another 600 mm`},
		{"x = 900, spread = 600", "x = 900, spread = 150", ""},
		{"y = -150", "y = -1500", `shaft "out" of "gear" is 1500 mm from its centreline, and its feet stand 600 mm apart`},
		{"y = -150", "y = -400", ""},
		{"sag = -0.05", "sag = 0.05", "sag is 0.05 mm: a bracket hangs"},
		{"sag = -0.05", "sag = -0.002", "sag is -0.002 mm: 0.003 to 2 mm is usual"}, // inches
		{"sag = -0.05", "sag = -5", "sag is -5 mm: 0.003 to 2 mm is usual"},
		{"sag = -0.05", "sag = 0", ""},
		{"[[machine]]", "[shims]\nstep = 0.5\n[[machine]]", "step is 0.5 mm: 0.005 to 0.3 mm is usual"},
		{"[[machine]]", "[shims]\nstep = 0.25\n[[machine]]", ""},
	} {
		require.Contains(t, fitting, c.from)
		got, report := Read("lengths.toml", []byte(strings.Replace(fitting, c.from, c.to, 1)), options)
		require.NotNil(t, got, report.String())
		if c.says == "" {
			assert.Empty(t, report, c.to)
			continue
		}
		require.NotEmpty(t, report, c.to)
		assert.Contains(t, report.String(), c.says, c.to)
		assert.Equal(t, Warning, report[0].Severity)
		if !strings.HasPrefix(c.to, "sag") { // a sag may break the ring of its dial too
			assert.Len(t, report, 1, c.to)
		}
	}
}

// Inches: 5 thousandths of sag typed as 0.005, which is 0.005 mil.
func TestSagTypedInInches(t *testing.T) {
	_, report := Read("inch.toml", []byte(strings.NewReplacer(`"mm"`, `"inch"`, "sag = -0.05", "sag = -0.005",
		"height = 450",
		"height = 20", "height = 400", "height = 18", "spread = 700", "spread = 30", "spread = 600",
		"spread = 28", "x = 1000",
		"x = 40", "at = 1800", "at = 70", "x = 900", "x = 36", "x = 1400", "x = 55", "x = 1500", "x = 58",
		"x = 1350", "x = 52",
		"y = 150", "y = 6", "y = -150", "y = -6", "v = 0.1", "v = 4", "offset = 0.05", "offset = 2", "-0.16", "-8",
		"-0.20", "-10", "-0.04", "-2", "-0.10", "-5", "-0.24", "-12", "-0.14", "-7").Replace(fitting)), options)
	require.Len(t, report, 1, report.String())
	assert.Contains(t, report[0].Message, "sag is -0.005 mil: 0.12 to 79 mil is usual (1 more like it)")
	assert.Contains(t, report[0].Hint, "-0.005 inches would be -5 mil")
}

// No stored train has one of these warnings.
func TestStoredTrainsGoTogether(t *testing.T) {
	for _, name := range append(append(families.Names(), families.RuleNames()...), "base") {
		for seed := uint64(700); seed < 710; seed++ {
			_, report := Read(name, []byte(families.TOML(name, seed)), options)
			for _, f := range report {
				for _, says := range []string{"apart along the train", "mm high, and", "from its centreline", "another", "step is",
					"sag is"} {
					assert.NotContains(t, f.Message, says, fmt.Sprint(name, seed))
				}
			}
		}
	}
}
