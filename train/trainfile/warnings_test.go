package trainfile

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// geared is a train with readings of which nothing is doubted.
func geared(t *testing.T) string {
	src, err := os.ReadFile("testdata/geared.toml")
	require.NoError(t, err)
	return string(src)
}

// A typo is one change to testdata/geared.toml, which has no doubt, and what is
// then said.
type typo struct {
	why      string
	from, to string // pairs of old and new text, parted by |
	line     string // that the doubt is placed at, as changed; "": nothing is said
	says     string
	hint     string
}

func (c typo) check(t *testing.T) {
	text := geared(t)
	to := strings.Split(c.to, "|")
	for i, from := range strings.Split(c.from, "|") {
		changed := strings.Replace(text, from, to[i], 1)
		require.NotEqual(t, text, changed, "%s: %s", c.why, from)
		text = changed
	}
	got, report := Read("geared.toml", []byte(text), options)
	require.NotNil(t, got, "%s: %s", c.why, report)
	if c.line == "" {
		assert.Empty(t, report, c.why)
		return
	}
	require.Len(t, report, 1, "%s: %s", c.why, report)
	assert.Equal(t, Warning, report[0].Severity)
	assert.Equal(t, c.line, report[0].Source, c.why)
	assert.Contains(t, report[0].Message, c.says, c.why)
	assert.Contains(t, report[0].Hint, c.hint, c.why)
}

// Where machines stand.
func TestUnusualStations(t *testing.T) {
	for _, c := range []typo{
		{"nothing is wrong", "units", "units ", "", "", ""},
		{"a foot past the coupling, and short of the next machine", "x      = 40", "x      = 53", "x    = 51",
			`coupling "low" is at 51 inch, and a foot of "motor" stands past it, at 53 inch`, "check both"},
		{"a foot past the coupling, among the next machine's", "x      = 40", "x      = 63", "x      = 63",
			`machines "motor" and "gear" reach into each other: feet of the first stand up to station 63 inch, of the second from 60 inch on, coupling "low" is at 51 inch`, "counts from its machine's at"},
		{"a coupling inside the gear", "x    = 51", "x    = 69.5", "x    = 69.5",
			`coupling "low" is at 69.5 inch, and a foot of "gear" stands before it, at 60 inch`, "check both"},
		{"a machine inside the one before it", "at     = 106", "at     = 70", "x      = 0",
			`machines "gear" and "compressor" reach into each other: feet of the first stand up to station 84 inch, of the second from 70 inch on, coupling "high" is at 96 inch`, "at of the machines"},
		{"a foot past the near flex plane of a spacer", "x      = 24", "x      = 32", "flex = [91, 102]",
			`the flex plane of coupling "high" is at 91 inch, and a foot of "gear" stands past it`, ""},
		{"a foot just short of its flex plane", "x      = 24", "x      = 31", "", "", ""},
		{"feet in stations of the train, and at besides", "x      = 0\nspread = 28|x      = 44\nspread = 28",
			"x      = 106\nspread = 28|x      = 150\nspread = 28", "at     = 106",
			`the feet of "compressor" stand at 212 inch to 256 inch, 110 inch from coupling "high"; without at they would be 4 inch from it`, "leave at out"},
	} {
		c.check(t)
	}
}

// Where instruments sit and how large they are.
func TestUnusualInstruments(t *testing.T) {
	const target = "[[coupling.target]]\nkind = \"rim\"\non = \"gear/pinion\"\nx = 290\n\n[[condition]]"
	for _, c := range []typo{
		{"a digit left out: beyond the gear's feet", "x     = 103", "x     = 10.3", "x     = 10.3",
			`x is 10.3 inch, 85.7 inch from coupling "high": feet of "gear" lie between them, from 60 inch to 84 inch`,
			"was a digit left out?"},
		{"a digit too much: beyond the compressor", "[[condition]]", target, "x = 290",
			`x is 290 inch, 194 inch from coupling "high": feet of "compressor" lie between them`, ""},
		{"a rim on the hub of the other shaft, inside the spacer", "x     = 103", "x     = 94", "", "", ""},
		{"mm where inches were meant", "sag   = -2\nradius = 3.25", "sag   = -2\nradius = 82.5", "radius = 82.5",
			`radius is 82.5 inch, and the shaft of "gear" is 20 inch above the shim plane`,
			"lengths are in inches in this file"},
		{"a radius just as high as the shaft", "sag   = -2\nradius = 3.25", "sag   = -2\nradius = 20", "", "", ""},
		{"the diameter of a face", "radius = 3\n|clock  = { 12 = 0, 3 = 1, 6 = 4.5, 9 = 3.5 }",
			"radius = 6\n|clock  = { 12 = 0, 3 = 2, 6 = 9, 9 = 7 }", "radius = 6",
			"radius of the face is 6 inch, and the largest rim on the same shaft has 3.25 inch", "was the diameter typed?"},
		{"a face on a flange, a rim on the hub", "radius = 3\n|clock  = { 12 = 0, 3 = 1, 6 = 4.5, 9 = 3.5 }",
			"radius = 5\n|clock  = { 12 = 0, 3 = 1.5, 6 = 7.5, 9 = 6 }", "", "", ""},
		{"inches in place of mils", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"clock = { 12 = 0, 3 = 0.005, 6 = 0.031, 9 = 0.026 }", "clock = { 12 = 0, 3 = 0.005, 6 = 0.031, 9 = 0.026 }",
			"all readings here are 0.031 mil or less", "0.031 inch would be 31 mil"},
		{"mm in place of mils", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"clock = { 12 = 0, 3 = 0.13, 6 = 0.79, 9 = 0.66 }", "clock = { 12 = 0, 3 = 0.13, 6 = 0.79, 9 = 0.66 }",
			"all readings here are 0.79 mil or less", "0.79 mm 31.102 mil"},
		{"two of them", "clock = { 12 = 0, 3 = -10, 6 = -55, 9 = -44.5 }|clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"clock = { 12 = 0, 3 = -0.01, 6 = -0.055, 9 = -0.0445 }|clock = { 12 = 0, 3 = 0.005, 6 = 0.031, 9 = 0.026 }",
			"clock = { 12 = 0, 3 = -0.01, 6 = -0.055, 9 = -0.0445 }",
			"all readings here are 0.055 mil or less (1 more like it)", ""},
		{"half a mil is read", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"clock = { 12 = 0, 3 = 0.5, 6 = 0.25, 9 = -0.25 }", "", "", ""},
		{"nothing is read", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }", "clock = { 12 = 0, 3 = 0, 6 = 0, 9 = 0 }", "", "",
			""},
		{"a sensor shows hundredths of a mil", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"sweep = [[0, 0], [90, 0.13], [180, 0.79], [270, 0.66]]", "", "", ""},
		{"but no thousandths", "clock = { 12 = 0, 3 = 5, 6 = 31, 9 = 26 }",
			"sweep = [[0, 0], [90, 0.005], [180, 0.031], [270, 0.026]]",
			"sweep = [[0, 0], [90, 0.005], [180, 0.031], [270, 0.026]]",
			"all readings here are 0.031 mil or less", ""},
	} {
		c.check(t)
	}
}

// In a file in mm, metres are doubted and hundredths are not.
func TestReadingsInMetres(t *testing.T) {
	base, err := os.ReadFile("../../testdata/faulty/rims-past-each-other.toml")
	require.NoError(t, err)
	sound := strings.NewReplacer("x = 1100", "x = 900", "x = 900", "x = 1100",
		"height = 400\n", "height = 400\ngrowth = [{ v = 0.0 }]\n").Replace(string(base))
	_, report := Read("mm.toml", []byte(sound), options)
	require.Empty(t, report)
	for clock, doubted := range map[string]bool{
		"12 = 0, 3 = 0.0002, 6 = 0.0005, 9 = 0.0003": true,
		"12 = 0, 3 = 0.01, 6 = 0, 9 = -0.01":         false,
		"12 = 0, 3 = 0.002, 6 = 0, 9 = -0.002":       false,
	} {
		_, report := Read("mm.toml", []byte(strings.Replace(sound, "12 = 0, 3 = 0.02, 6 = 0.01, 9 = -0.01", clock, 1)),
			options)
		if !doubted {
			assert.Empty(t, report, clock)
			continue
		}
		require.Len(t, report, 1, clock)
		assert.Contains(t, report[0].Message, "all readings here are 0.0005 mm or less")
		assert.Equal(t, "readings are in mm in this file: not in m", report[0].Hint)
	}
}

// What machines, couplings and conditions say of each other.
func TestUnusualFigures(t *testing.T) {
	for _, c := range []typo{
		{"a motor of 72 per minute", "height = 25\nrpm    = 1780", "height = 25\nrpm    = 178", `to   = "gear/wheel"`,
			`speeds differ at coupling "low", 178 1/min and 1780 1/min of "motor" and "gear/wheel"`, "which shaft of a gear"},
		{"the other shaft of the gear", "rpm  = 9100", "rpm  = 1780", `to   = "compressor"`,
			`1780 1/min and 9100 1/min of "gear/pinion" and "compressor"`, ""},
		{"a fluid coupling slips by a few per cent", "height = 25\nrpm    = 1780", "height = 25\nrpm    = 1850", "", "", ""},
		{"a speed that is not stated", "height = 25\nrpm    = 1780", "height = 25", "", "", ""},
		{"no growth in the running condition", `"cold start"`, `"running"`, "growth = 0",
			`condition "running" has none of the growth`, "give another name"},
		{"machine by machine", "\"cold start\"\ngrowth = 0",
			"\"running\"\nmachine = { motor = 0, gear = 0, compressor = 0 }",
			"machine = { motor = 0, gear = 0, compressor = 0 }", "has none of the growth", ""},
		{"of one machine", "\"cold start\"\ngrowth = 0", "\"running\"\nmachine = { motor = 0 }", "", "", ""},
		{"a hole of 9.5 for a bolt of 1", "hole   = 1.15625", "hole   = 9.5", "hole   = 9.5",
			"hole is 9.5 inch, over twice its bolt (1.0 inch)", "misplaced decimal point"},
		{"a hole of twice its bolt", "hole   = 1.15625", "hole   = 2", "", "", ""},
		{"degrees", "angle      = 0.4", "angle      = 0.02", "angle      = 0.02",
			"angle is 0.02 mrad: 0.06 to 10 mrad is usual", "0.02 degrees would be 0.34907 mrad"},
		{"a tight limit", "angle      = 0.4", "angle      = 0.08", "", "", ""},
	} {
		c.check(t)
	}
}

// From 5 mm or 200 mil on a found offset is doubted, from 10 mrad on an angle.
func TestUnusualMisalignment(t *testing.T) {
	for _, c := range []struct{ text, from, to, says string }{
		{sound(t), "offset = -0.3", "offset = -5.1", `the offset found at coupling "main" is -5.1 mm: over 5 mm is doubtful`},
		{sound(t), "offset = -0.3", "offset = -4.9", ""},
		{sound(t), "angle = 0.4", "angle = 10.5",
			`the angle found at coupling "main" is 10.5 mrad: over 10 mrad is doubtful`},
		{inchFile(t), "offset = -12", "offset = -201",
			`the offset found at coupling "main" is -201 mil: over 200 mil is doubtful`},
		{inchFile(t), "offset = -12", "offset = -199", ""},
	} {
		text := strings.Replace(c.text, c.from, c.to, 1)
		require.NotEqual(t, c.text, text)
		_, report := Read("found.toml", []byte(text), options)
		said := false
		for _, f := range report {
			said = said || f.Message == c.says
			if c.says == "" {
				assert.NotContains(t, f.Message, "is doubtful")
			}
		}
		assert.Equal(t, c.says != "", said, report)
	}
}

// A shaft that does not lie at its machine's height: grey iron over 20 inches and 60
// °F is taken, 6.0e-6 × 20 × 60 = 7.2 mil; over the shaft's own 30 it is 10.8.
func TestLiftedShaft(t *testing.T) {
	const rise = "shim   = 100\nrise   = 60\nmaterial = \"grey iron\""
	read := func(z, more string) Report {
		text := strings.NewReplacer("shim   = 100", rise, "z    = 0\nrpm  = 9100", "z    = "+z+"\nrpm  = 9100"+more,
			"[[machine.growth]]\nv = 8\n", "").Replace(geared(t))
		got, report := Read("geared.toml", []byte(text), options)
		require.NotNil(t, got, report)
		return report
	}
	report := read("10", "")
	require.Len(t, report, 2, report)
	assert.Equal(t, "z    = 10", report[0].Source)
	assert.Equal(t, `the growth of "gear" is worked out over its height, 7.2 mil up, and shaft "pinion" is not at it: over height + z it would be 10.8 mil`, report[0].Message)
	assert.Contains(t, report[0].Hint, "[[machine.shaft.growth]] with v = 10.8")
	assert.Len(t, read("0.5", ""), 1, "0.18 mil are not seen")
	assert.Len(t, read("10", "\ngrowth = [{ v = 10.8 }]"), 1, "the shaft has its own")
}

// What is calculated is said once, of all machines for which it is.
func TestCalculatedOnce(t *testing.T) {
	const rise = "rise   = 60\nmaterial = \"grey iron\""
	text := strings.NewReplacer("shim   = 100", rise, "shim   = 150", rise, "[[machine.growth]]\nv = 8\n", "",
		"[[machine.growth]]\nv = 10\n", "").Replace(geared(t))
	_, report := Read("geared.toml", []byte(text), options)
	require.Len(t, report, 1, report)
	assert.Contains(t, report[0].Message, `the growth of "gear" and "compressor" is calculated`)
	assert.Equal(t, 54, report[0].Line, "at the first")
}

func TestTogether(t *testing.T) {
	assert.Equal(t, "a", together([]string{"a"}))
	assert.Equal(t, "a and b", together([]string{"a", "b"}))
	assert.Equal(t, "a, b and c", together([]string{"a", "b", "c"}))
	assert.Equal(t, "a, b, c, d, e, f and 2 more", together([]string{"a", "b", "c", "d", "e", "f", "g", "h"}))
}

// Figures stand in messages as they were typed, to the last decimal.
func TestTypedFigures(t *testing.T) {
	bolt := strings.Replace(sound(t), "bolt   = 20\nhole   = 22", "bolt   = 31.75\nhole   = 29.36875", 1)
	_, report := Read("typed.toml", []byte(bolt), options)
	require.Len(t, report, 1)
	assert.Contains(t, report[0].Message, "hole is 29.36875 mm, smaller than its bolt (31.75 mm)")

	for _, c := range []struct{ from, to, says string }{
		{"x     = 47.5\nclock = { 12 = 0, 3 = 8.5,", "x     = 47.125\nclock = { 12 = 0, 3 = 80.5,",
			`the rim dial on "motor" at x = 47.125 does not close its ring: 12 + 6 come to 39 mil and 3 + 9 to 110.5 mil`},
		{"x      = 40", "x      = 1040.125", `not after "motor" at 520.0625 inch`},
	} {
		_, report := Read("typed.toml", []byte(strings.Replace(geared(t), c.from, c.to, 1)), options)
		assert.Contains(t, report.String(), c.says)
	}
}
