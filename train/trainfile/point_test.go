package trainfile

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// testdata/faulty/survey.toml is the sound file with points in place of what was
// found; its figures are those of the calculation by hand in train/readings.
func TestFoundBySurvey(t *testing.T) {
	got := file(t, "../../testdata/faulty/survey.toml")
	c := got.Couplings[0]
	assert.True(t, c.Surveyed)
	assertNear(t, -0.3, c.Found.V.Offset, "v")
	assertNear(t, 0.4, c.Found.V.Angle, "v")
	assertNear(t, 0.225, c.Found.H.Offset, "h")
	assertNear(t, -0.1, c.Found.H.Angle, "h")
	// By true geometry it stands as was found.
	r := got.Check(got.Stay()).Couplings[0][0]
	assertNear(t, -0.3, r.V.Offset, "v")
	assertNear(t, 0.225, r.H.Offset, "h")
}

// Growth as it was measured. By hand: left and right at two stations the line is the
// mean of both sides, 0.2 at 0 and 0.4 at 1000; the left side rises 0.06 more over
// 600 mm, a roll of 0.1 mrad. Sideways it was measured at the shaft, 0.05 to the left:
// the roll takes the shaft 400 × 0.1 / 1000 = 0.04 to the right, so that the line
// at the shim plane is 0.09.
func TestMeasuredGrowth(t *testing.T) {
	text := strings.Replace(strings.Replace(sound(t), "growth = [{ v = 0.0 }]\n", "", 1), "[[machine]]\nname   = \"pump\"", `[[machine.growth]]
x = 0
y = 300
v = 0.23
h = 0.05
[[machine.growth]]
x = 0
y = -300
v = 0.17
h = 0.05
[[machine.growth]]
x = 1000
y = 300
v = 0.43
h = 0.05
[[machine.growth]]
x = 1000
y = -300
v = 0.37
h = 0.05

[[machine]]
name   = "pump"`, 1)
	got, report := Read("measured.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	assert.Empty(t, report)
	g := got.Machines[0].Growth
	assertNear(t, 0.2, g.V.Start, "v at 0")
	assertNear(t, 0.2, g.V.Slope, "0.2 over 1 m")
	assertNear(t, 0.1, g.Roll, "0.06 over 600 mm")
	assertNear(t, 0.09, g.H.Start, "h at the shim plane")
	assertNear(t, 0, g.H.Slope, "h")
	assert.False(t, g.Worked)

	// With no h stated the shaft goes as the roll takes it: 0.1 mrad × 400 mm, 0.04 to the right.
	got, report = Read("measured.toml", []byte(strings.ReplaceAll(text, "h = 0.05\n", "")), options)
	require.NotNil(t, got, report.String())
	g = got.Machines[0].Growth
	assertNear(t, 0.1, g.Roll, "0.06 over 600 mm")
	assertNear(t, 0, g.H.Start, "nothing but the roll")

	// Three stations on the centreline: 0.1, 0.13 and 0.1 leave a level line at 0.11.
	text = strings.Replace(strings.Replace(sound(t), "growth = [{ v = 0.0 }]\n", "", 1),
		"[[machine]]\nname   = \"pump\"", "[[machine.growth]]\nv = 0.1\n[[machine.growth]]\nx = 500\nv = "+
			"0.13\n[[machine.growth]]\nx = 1000\nv = 0.1\n\n[[machine]]\nname   = \"pump\"", 1)
	got, report = Read("measured.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	assertNear(t, 0.11, got.Machines[0].Growth.V.At(700), "v")
	assertNear(t, 0, got.Machines[0].Growth.V.Slope, "v")
}

// Points measured running too give the growth of their shaft, less the shift in its
// bearings, so that cold and running are both as measured.
func TestGrowthOfPoints(t *testing.T) {
	src, err := os.ReadFile("testdata/whole.toml")
	require.NoError(t, err)
	text := strings.Replace(string(src), "name = \"wheel\"\ny    = -180\n",
		"name = \"wheel\"\ny    = -180\nrun = { v = 0.03, h = 0.01 }\n", 1)
	got, report := Read("whole.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	wheel := got.Machines[1].Shafts[1]
	assertNear(t, 0.1, wheel.Growth.V.At(400)+wheel.Run.V, "10.10 - 10.00 running")
	assertNear(t, -0.02, wheel.Growth.H.At(400)+wheel.Run.H, "4.98 - 5.00 running")
	assert.Equal(t, train.Growth{Unknown: true, AxialUnknown: true}, got.Machines[1].Growth, "the case is not the shaft")
}

// Half a mil for each inch between the flex planes, 0.5 mrad at each (Jackson, The
// Practical Vibration Primer, 1979), where it is asked for.
func TestPublishedLimit(t *testing.T) {
	text := strings.Replace(sound(t), "x    = 1250", "x    = 1250\nflex = [1200, 1350]", 1)
	text = strings.Replace(text, "offset = 0.05\nangle  = 0.5", "published = \"spacer\"", 1)
	got, report := Read("published.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	assert.Equal(t, train.Limit{Offset: math.Inf(1), Angle: 0.5, Gap: math.Inf(1)}, got.Couplings[0].Limit)
}

// A bearing of 0.2: from its bottom a shaft goes anywhere in a circle of diameter 0.2
// above it. Above half of the clearance it is doubted, outside the circle too, and
// beyond the clearance it is a fault.
func TestRunWithinClearance(t *testing.T) {
	for _, c := range []struct {
		why, run string
		severity Severity
		says     string
	}{
		{"a little up", "v = 0.08, h = 0.02", Note, ""},
		{"half-way up, and as far aside as can be", "v = 0.1, h = 0.0999", Warning,
			"over half of the clearance of its bearings, 0.2 mm"},
		{"nearly to the top", "v = 0.19", Warning, "over half of the clearance"},
		{"down", "v = -0.02", Warning, "shifts by 0.02 mm down and 0 mm to the left when running"},
		{"aside from the bottom", "h = -0.05", Warning, "shifts by 0 mm up and 0.05 mm to the right when running"},
		{"past the top", "v = 0.21", Error, "shifts by 0.21 mm when running, and the clearance of its bearings is 0.2 " +
			"mm: it has no room for that"},
	} {
		text := strings.Replace(sound(t), "rpm    = 1500\n",
			"rpm    = 1500\n[[machine.shaft]]\nclearance = 0.2\nrun = { "+c.run+" }\n[[machine.foot]]\nname = \"other\"\nx "+
				"= 0\nspread = 600\n", 1)
		text = strings.Replace(text, "hold   = true\ngrowth = [{ v = 0.0 }]\n", "", 1)
		text = strings.Replace(text, "height = 400\nrpm", "height = 400\nhold = true\ngrowth = [{ v = 0.0 }]\nrpm", 1)
		got, report := Read("run.toml", []byte(text), options)
		if c.severity == Note {
			require.NotNil(t, got, report.String())
			assert.Empty(t, report, c.why)
			continue
		}
		require.Equal(t, 1, report.Count(c.severity), "%s: %s", c.why, report)
		assert.Contains(t, report.String(), c.says, c.why)
	}
}
