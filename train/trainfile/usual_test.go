package trainfile

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
)

// Numbers in another unit than the file's are doubted, each with what it would
// be in the unit that was probably meant. Converted by hand.
func TestSlipsOfTheUnit(t *testing.T) {
	const nozzle = "\n[[machine.nozzle]]\nname = \"n\"\nx = 0\nz = 300\nlimit = %s\n"
	for _, c := range []struct {
		why, from, to, says, hint string
	}{
		{"metres", "height = 400\nrpm", "height = 0.4\nrpm", "height is 0.4 mm: 10 to 4000 mm is usual",
			"0.4 m would be 400 mm"},
		{"metres", "spread = 600", "spread = 1.1", "spread is 1.1 mm", "1.1 m would be 1100 mm"},
		{"inches", "spread = 600", "spread = 24", "spread is 24 mm", "24 inches would be 609.6 mm"},
		{"inches", "bolt   = 20", "bolt = 0.75", "bolt is 0.75 mm", "0.75 inches would be 19.05 mm"},
		{"micrometres", "offset = 0.05", "offset = 60", "offset is 60 mm: 0.005 to 1 mm is usual",
			"60 micrometres would be 0.06 mm"},
		{"mils", "offset = 0.05", "offset = 2", "offset is 2 mm", "2 mils would be 0.0508 mm"},
		{"inches", "offset = 0.05", "offset = 0.002", "offset is 0.002 mm", "0.002 inches would be 0.0508 mm"},
		{"rad", "angle  = 0.5", "angle = 0.0005", "angle is 0.0005 mrad", "0.0005 rad would be 0.5 mrad"},
		{"micrometres", "[[coupling]]", fmt.Sprintf(nozzle, "50") + "[[coupling]]", "limit is 50 mm",
			"50 micrometres would be 0.05 mm"},
		{"micrometres", "hole   = 22", "hole = 22\ntravel = { left = 400 }", "left is 400 mm",
			"400 micrometres would be 0.4 mm"},
		{"micrometres", "height = 400\ngrowth = [{ v = 0.0 }]", "height = 400\ngrowth = [{ v = 25 }]", "v is 25 mm",
			"25 micrometres would be 0.025 mm"},
		{"micrometres", "hole   = 22", "hole = 22\nsoft = 2.5", "soft is 2.5 mm", "2.5 mils would be 0.0635 mm"},
	} {
		text := strings.Replace(sound(t), c.from, c.to, 1)
		require.NotEqual(t, sound(t), text, c.says)
		got, report := Read("slip.toml", []byte(text), options)
		require.NotNil(t, got, report.String())
		require.Len(t, report, 1, c.says)
		assert.Contains(t, report[0].Message, c.says)
		assert.Contains(t, report[0].Hint, c.hint, c.why)
	}
}

func TestSlipsOfTheUnitInInches(t *testing.T) {
	for _, c := range []struct{ why, lines, says, hint string }{
		{"inches for mils", "shim = 160\ntravel = { left = 0.1 }", "left is 0.1 mil: 0.79 to 1200 mil is usual",
			"0.1 inches would be 100 mil"},
		{"inches for mils", "shim = 0.125", "shim is 0.125 mil", "0.125 inches would be 125 mil"},
		{"inches for mils", "pieces = [0.1, 0.05, 25]", "pieces is 0.1 mil: 0.39 to 2400 mil is usual (1 more like it)",
			"0.1 inches would be 100 mil"},
		{"inches for mils", "soft = 0.004", "soft is 0.004 mil", "0.004 inches would be 4 mil"},
		{"mils are not micrometres", "soft = 60", "soft is 60 mil", "60 micrometres would be 2.3622 mil"},
	} {
		_, _, report := fronts(t, "inch", c.lines)
		require.Len(t, report, 1, c.says)
		assert.Equal(t, Warning, report[0].Severity)
		assert.Contains(t, report[0].Message, c.says)
		assert.Contains(t, report[0].Hint, c.hint, c.why)
	}
	front := strings.Replace(inchFile(t), "shim   = 4.0\nbolt   = 20\nhole   = 22", "shim = 160", 1)
	for _, c := range []struct{ why, from, to, says, hint string }{
		{"mm for inches", "height = 16\nrpm", "height = 200\nrpm", "height is 200 inch: 0.39 to 160 inch is usual",
			"200 mm would be 7.874 inch"},
		{"mm for inches", "spread = 24", "spread = 600", "spread is 600 inch", "600 mm would be 23.622 inch"},
		{"feet for inches", "spread = 24", "spread = 1.9", "spread is 1.9 inch", "1.9 feet would be 22.8 inch"},
		{"inches for mils", "offset = 2\n", "offset = 0.002\n", "offset is 0.002 mil", "0.002 inches would be 2 mil"},
		{"micrometres for mils", "offset = 2\n", "offset = 60\n", "offset is 60 mil", "60 micrometres would be 2.3622 mil"},
		{"inches for mils", "growth = [{ v = 0.0 }]", "growth = [{ v = 0.012 }]", "v is 0.012 mil",
			"0.012 inches would be 12 mil"},
		{"12 mil are usual", "growth = [{ v = 0.0 }]", "growth = [{ v = 12 }]", "", ""},
	} {
		text := strings.Replace(front, c.from, c.to, 1)
		require.NotEqual(t, front, text, c.says)
		_, report := Read("slip.toml", []byte(text), options)
		if c.says == "" {
			assert.Empty(t, report, c.why)
			continue
		}
		require.Len(t, report, 1, "%s: %s", c.says, report)
		assert.Contains(t, report[0].Message, c.says)
		assert.Contains(t, report[0].Hint, c.hint, c.why)
	}
}

// Zero is a size of its own: no shim, no travel, no growth.
func TestNothingHasNoWarning(t *testing.T) {
	_, _, report := fronts(t, "mm", "shim = 0\nsoft = 0\ntravel = { left = 0, right = 0 }")
	assert.Empty(t, report)
}

// Where everything is too small the file as a whole is doubted, once.
func TestOneWarningForAWholeFile(t *testing.T) {
	src, err := os.ReadFile("../../testdata/faulty/inches-for-mm.toml")
	require.NoError(t, err)
	_, report := Read("whole.toml", src, options)
	report = slices.DeleteFunc(report, func(f Fault) bool { return strings.Contains(f.Message, "is not stated") })
	assert.Len(t, report, 1)
}

// Trains as the other tests draw them, and those that people are to start
// from, are of usual sizes throughout.
func TestUsualTrainsHaveNoWarnings(t *testing.T) {
	texts := map[string]string{}
	for _, name := range families.Names() {
		for seed := range uint64(12) {
			texts[fmt.Sprintf("%s %d", name, seed)] = families.TOML(name, seed)
		}
	}
	files, err := filepath.Glob("../../examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		texts[file] = string(src)
	}
	// What may be said of them: limits above those of running, and growth that
	// is calculated or not stated. Journal shifts are drawn either way. Speeds are drawn machine by machine.
	said := regexp.MustCompile(`^use is |is calculated, which is a starting point|^growth of .* is not stated|^the shaft shifts down by|^speeds differ at coupling `)
	for name, text := range texts {
		_, report := Read(name, []byte(text), options)
		for _, f := range report {
			assert.True(t, said.MatchString(f.Message), f.String())
		}
	}
}
