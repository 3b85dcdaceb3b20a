package trainfile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// fronts are the two front feet of the pump of sound.toml, left first, with
// these lines in place of its shim, bolt and hole; mm or inch.
func fronts(t *testing.T, units, lines string) (left, right train.Foot, report Report) {
	t.Helper()
	text := sound(t)
	if units == "inch" {
		text = inchFile(t)
	}
	text = strings.Replace(text, "shim   = 4.0\nbolt   = 20\nhole   = 22", lines, 1)
	got, report := Read("front.toml", []byte(text), options)
	if got == nil {
		return left, right, report
	}
	return got.Machines[1].Feet[0], got.Machines[1].Feet[1], report
}

// inchFile is sound.toml in round inches and mils, but for one pair of feet.
func inchFile(t *testing.T) string {
	t.Helper()
	text := strings.NewReplacer(`"mm"`, `"inch"`, "height = 400", "height = 16", "= 500", "= 20", "= 600", "= 24",
		"x      = 900", "x = 36", "x      = 800", "x = 32", "at     = 1500", "at = 60", "1250", "50",
		"offset = 0.05", "offset = 2", "offset = -0.3", "offset = -12", "offset = 0.2", "offset = 8").Replace(sound(t))
	first, rest, ok := strings.Cut(text, "[[machine.foot]]\nname   = \"rear\"")
	require.True(t, ok)
	return first + "[[machine.foot]]\nname   = \"rear\"" + strings.Replace(rest, "shim   = 4.0", "shim = 160", 1)
}

func TestPieces(t *testing.T) {
	type foot struct {
		pack   float64 // mm
		pieces []float64
	}
	for _, c := range []struct {
		why, lines  string
		left, right foot
	}{
		{"the sum is the pack", "pieces = [2.0, 1.0, 0.5]", foot{3.5, []float64{2, 1, 0.5}}, foot{3.5, []float64{2, 1, 0.5}}},
		{"no shims", "pieces = []", foot{0, []float64{}}, foot{0, []float64{}}},
		{"the pack was measured: half a step apart is no fault", "shim = 3.525\npieces = [2.0, 1.0, 0.5]",
			foot{3.525, []float64{2, 1, 0.5}}, foot{3.525, []float64{2, 1, 0.5}}},
		{"at one foot of the pair alone", "shim = 3.0\nleft = { pieces = [2.0, 1.2] }", foot{3.2, []float64{2, 1.2}},
			foot{3, nil}},
		{"a pack of its own makes the pair's pieces void", "pieces = [2.0, 1.0]\nright = { shim = 3.4 }",
			foot{3, []float64{2, 1}}, foot{3.4, nil}},
		{"each its own", "left = { pieces = [1.0] }\nright = { pieces = [0.5, 0.7] }", foot{1, []float64{1}},
			foot{1.2, []float64{0.5, 0.7}}},
	} {
		left, right, report := fronts(t, "mm", c.lines)
		require.Empty(t, report, c.why)
		for _, side := range []struct {
			want foot
			got  train.Foot
		}{{c.left, left}, {c.right, right}} {
			assertNear(t, side.want.pack, side.got.Pack, c.why)
			assertNear(t, side.want.pack, side.got.Lower, c.why+": all of it may come out")
			assert.Equal(t, side.want.pieces, side.got.Pieces, c.why)
		}
	}
}

func TestPiecesInMils(t *testing.T) {
	left, _, report := fronts(t, "inch", "pieces = [100, 25, 5]\nsoft = 2.5")
	require.Empty(t, report)
	assertNear(t, 130*0.0254, left.Pack, "130 mil")
	assertNear(t, 0.0635, left.Soft, "2.5 mil")
}

// The diameters are those of the series; the minor diameters those printed in
// tables, to 0.01 mm; 1 1/8 in has 0.9497 in.
func TestBoltByThread(t *testing.T) {
	const metric, unified = 20.32, 0.9497 * 25.4
	for _, c := range []struct {
		why, units, lines string
		bolt, hole, minor float64 // mm
	}{
		{"a name", "mm", "bolt = \"M24\"\nhole = 26", 24, 26, metric},
		{"an inch bolt in a mm file", "mm", "bolt = \"1-1/8 in\"\nhole = 31", 28.575, 31, unified},
		{"a metric bolt in an inch file", "inch", "bolt = \"M24\"\nhole = 1.1", 24, 27.94, metric},
		{"an inch bolt in an inch file", "inch", "bolt = \"1 1/8 in\"\nhole = 1.25", 28.575, 31.75, unified},
		{"a size as a number", "mm", "bolt = 24\nhole = 26", 24, 26, metric},
		{"an inch size as a number", "inch", "bolt = 1.125\nhole = 1.25", 28.575, 31.75, unified},
		{"no size", "mm", "bolt = 23.9\nhole = 26", 23.9, 26, 0},
		{"an inch size in mm is no metric thread", "mm", "bolt = 28.575\nhole = 31", 28.575, 31, 0},
		{"the fit of its own series: ISO 273", "inch", "bolt = \"M24\"\nfit = \"medium\"", 24, 26, metric},
		{"the fit of its own series: ASME B18.2.8", "mm", "bolt = \"1 1/8 in\"\nfit = \"normal\"", 28.575,
			1.219 * 25.4, unified},
	} {
		left, right, report := fronts(t, c.units, "shim = 100\n"+c.lines)
		require.False(t, report.Failed(), "%s: %s", c.why, report)
		assertNear(t, c.bolt, left.Bolt, c.why)
		assertNear(t, c.hole, left.Hole, c.why)
		assert.False(t, math.IsNaN(left.Minor), c.why)
		assert.InDelta(t, c.minor, left.Minor, 0.005, c.why)
		assert.Equal(t, left.Minor, right.Minor, c.why)
	}
}

// A thread's name without a table of threads is a fault, not a silence.
func TestThreadWithoutTable(t *testing.T) {
	text := strings.Replace(sound(t), "bolt   = 20", `bolt = "M20"`, 1)
	got, report := Read("thread.toml", []byte(text), Options{})
	assert.Nil(t, got)
	require.Len(t, report, 1)
	assert.Equal(t, 28, report[0].Line)
}

// Whatever key is misspelt is faulted once, and not missed as well.
func TestMisspeltOnce(t *testing.T) {
	for _, c := range []struct{ from, to string }{
		{"spread = 500", "sprad = 500"},
		{"spread = 500", "sprad = 500\nleft = { shim = 3.0 }"},
		{"bolt   = 20", "bolts = 20"},
		{"hole   = 22", "hol = 22"},
		{"hole   = 22", "fitt = \"medium\""},
		{"[coupling.limit]", "[coupling.limits]"},
		{"[coupling.found]", "[coupling.fond]"},
		{"offset = 0.05", "ofset = 0.05"},
		{"angle  = 0.5", "angel = 0.5"},
		{"shim   = 4.0", "shim = 4.0\nmaterail = \"steel\"\nrise = 3"},
		{"shim   = 4.0", "shim = 4.0\nmaterial = \"steel\"\nrize = 3"},
	} {
		text := strings.Replace(sound(t), c.from, c.to, 1)
		if c.from == "shim   = 4.0" {
			text = strings.ReplaceAll(sound(t), c.from, "shim = 4.0\nmaterial = \"steel\"\nrise = 3")
			text = strings.Replace(text, "shim = 4.0\nmaterial = \"steel\"\nrise = 3", c.to, 1)
		}
		_, report := Read("misspelt.toml", []byte(text), options)
		require.Equal(t, 1, report.Count(Error), "%s: %s", c.to, report)
		assert.Contains(t, report.String(), "did you mean", c.to)
	}
}

// A hole that is given counts, beside a fit too; only where the fit alone tells
// of it is it a standard's (ISO 273: 22 mm for M20, medium), and stands where
// the fit does.
func TestHoleBesideFit(t *testing.T) {
	for _, c := range []struct {
		why, lines string
		hole       [2]float64 // mm, left and right
		fitted     [2]bool
		line       [2]string // on which the hole is stated
		noted      int
	}{
		{"hole alone", "bolt = 20\nhole = 23", [2]float64{23, 23}, [2]bool{}, [2]string{"hole = 23", "hole = 23"}, 0},
		{"fit alone", "bolt = 20\nfit = \"medium\"", [2]float64{22, 22}, [2]bool{true, true}, [2]string{"fit =", "fit ="}, 0},
		{"both", "bolt = 20\nfit = \"medium\"\nhole = 23", [2]float64{23, 23}, [2]bool{},
			[2]string{"hole = 23", "hole = 23"}, 1},
		{"a hole of its own beside the pair's fit", "bolt = 20\nfit = \"medium\"\nleft = { hole = 24 }", [2]float64{24, 22},
			[2]bool{false, true},
			[2]string{"left = { hole", "fit ="}, 0},
		{"a fit of its own beside the pair's hole", "bolt = 20\nhole = 23\nright = { fit = \"medium\" }",
			[2]float64{23, 22}, [2]bool{false, true},
			[2]string{"hole = 23", "right = { fit"}, 0},
	} {
		text := strings.Replace(sound(t), "bolt   = 20\nhole   = 22", c.lines, 1)
		got, report := Read("fit.toml", []byte(text), options)
		require.NotNil(t, got, "%s: %s", c.why, report)
		assert.Equal(t, c.noted, report.Count(Note), c.why)
		places, lines := Locate(got, []byte(text)), strings.Split(text, "\n")
		for f := range 2 {
			foot := got.Machines[1].Feet[f]
			assertNear(t, c.hole[f], foot.Hole, c.why)
			assert.Equal(t, c.fitted[f], foot.Fitted, c.why)
			assert.Contains(t, lines[places.Foot(1, f, "hole")-1], c.line[f], c.why)
		}
	}
}
