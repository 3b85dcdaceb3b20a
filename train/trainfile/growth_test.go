package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// risen is the growth of a pump of two pairs of feet, 500 apart across and 800
// along, with these extra lines at the front and the rear pair.
func risen(t *testing.T, units, front, rear string) train.Growth {
	t.Helper()
	got, report := readRisen(t, units, front, rear)
	require.NotNil(t, got, report.String())
	return got.Machines[1].Growth
}

func readRisen(t *testing.T, units, front, rear string) (*train.Train, Report) {
	t.Helper()
	text := strings.ReplaceAll(sound(t), "growth = [{ v = 0.0 }]\n", "")
	text = strings.Replace(text, "shim   = 4.0\nbolt   = 20\nhole   = 22", "shim = 4.0\n"+front, 1)
	text = strings.Replace(text, "shim   = 4.0\n\n[[coupling]]", "shim = 4.0\n"+rear+"\n\n[[coupling]]", 1)
	text = strings.Replace(text, `"mm"`, `"`+units+`"`, 1)
	if units == "inch" {
		text = strings.ReplaceAll(text, "height = 400", "height = 16")
	}
	return Read("risen.toml", []byte(text), options)
}

// 24 in and +100 °F: 15.1 mil at 6.3e-6 per °F (McMillan, Table 8-3), 14.4 grey
// iron, 23.0 austenitic stainless (Elements of Metric Gear Technology).
func TestGrowthByRise(t *testing.T) {
	for _, c := range []struct {
		material string
		printed  float64 // mil
	}{
		{"steel", 15.1}, {"cast iron", 15.1}, {"grey iron", 14.4}, {"Grey Cast Iron", 14.4}, {"austenitic stainless", 23.0},
	} {
		line := fmt.Sprintf("rise = 100\nheight = 24\nmaterial = %q", c.material)
		g := risen(t, "inch", line, line)
		assert.True(t, g.Worked)
		assert.InDelta(t, c.printed, g.V.Start/train.Mil, 0.05, c.material)
		assertNear(t, 0, g.V.Slope, "both ends grow alike")
		assertNear(t, 0, g.Roll, "both sides grow alike")
	}
}

// Which iron cast iron is stays open: what it is counted as is said, once a file; of grey iron nothing is left open.
func TestCastIronIsSaidToBeCountedAsFrames(t *testing.T) {
	for material, said := range map[string]int{"cast iron": 1, "Cast Iron": 1, "grey iron": 0, "steel": 0} {
		line := fmt.Sprintf("rise = 100\nheight = 24\nmaterial = %q", material)
		_, report := readRisen(t, "inch", line, line)
		assert.Equal(t, said, strings.Count(report.String(), "material \"cast iron\" is counted as steel, 11.34e-6 per °C "+
			"(6.3e-6 per °F)"), material)
		assert.Equal(t, said, strings.Count(report.String(), "grey iron, 10.8e-6 per °C (6e-6 per °F)"), material)
	}
}

// The same in mm and °C: 609.6 mm and 55.5556 °C.
func TestGrowthByRiseInCelsius(t *testing.T) {
	const line = "rise = 55.555555555555556\nheight = 609.6\nmaterial = \"steel\""
	g := risen(t, "mm", line, line)
	assertNear(t, 24*100*6.3e-6*25.4, g.V.Start, "coefficient × rise × height")
}

// By hand, grey iron, 10.8e-6 per °C, height 400 mm of the machine: 1 °C makes
// 0.00432 mm. Front left 60, right 40, rear left 40, right 20 °C: the plane
// that fits is exact. In the middle of the front pair 50 × 0.00432 = 0.216, of
// the rear pair 30 × 0.00432 = 0.1296; the front is at x = 0, the rear 0.8 m
// on. Left is 20 × 0.00432 = 0.0864 over right, across 0.5 m.
func TestGrowthRollsTheCase(t *testing.T) {
	g := risen(t, "mm",
		"material = \"grey iron\"\nleft = { rise = 60 }\nright = { rise = 40 }",
		"material = \"grey iron\"\nleft = { rise = 40 }\nright = { rise = 20 }")
	assertNear(t, 0.216, g.V.Start, "front")
	assertNear(t, (0.1296-0.216)/0.8, g.V.Slope, "front to rear")
	assertNear(t, 0.0864/0.5, g.Roll, "(v left - v right) / spread, the left side rises")
	assert.Equal(t, train.Line{}, g.H)
	assert.Equal(t, train.Line{}, g.A)
}

// Three figures that no plane fits: least squares. One pair rises by 40 on the
// left alone, the other by 40 on the right alone: by symmetry the plane is
// level, at 20 °C × 0.00432 mm.
func TestGrowthOfATwistedCase(t *testing.T) {
	g := risen(t, "mm",
		"material = \"grey iron\"\nleft = { rise = 40 }\nright = { rise = 0 }",
		"material = \"grey iron\"\nleft = { rise = 0 }\nright = { rise = 40 }")
	assertNear(t, 0.0864, g.V.Start, "20 °C")
	assertNear(t, 0, g.V.Slope, "level along")
	assertNear(t, 0, g.Roll, "level across")
}

// A line through 0.1 at x = 200 and 0.3 at x = 1200 slopes up by 0.2 mm/m and is
// 0.06 at the machine's own x = 0.
func TestGrowthByTwoStations(t *testing.T) {
	text := strings.ReplaceAll(sound(t), "growth = [{ v = 0.0 }]\n", "") + "\n"
	text = strings.Replace(text, "[[coupling]]", "[[machine.growth]]\nx = 200\nv = 0.1\n[[machine.growth]]\nx = "+
		"1200\nv = 0.3\n\n[[coupling]]", 1)
	got, report := Read("growth.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	assertNear(t, 0.06, got.Machines[1].Growth.V.Start, "0.1 - 0.2 × 0.2")
	assertNear(t, 0.2, got.Machines[1].Growth.V.Slope, "(0.3 - 0.1) / 1 m")
	assert.False(t, got.Machines[1].Growth.Worked)
}

// Every material has a name of its own, a source, and a coefficient near that
// of its kin.
func TestMaterials(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range Materials() {
		assert.NotEmpty(t, m.Source, m.Names)
		assert.Greater(t, m.Coefficient, 5.0, m.Names)
		assert.Less(t, m.Coefficient, 13.0, m.Names)
		for _, n := range m.Names {
			assert.False(t, seen[strings.ToLower(n)], n)
			seen[strings.ToLower(n)] = true
		}
	}
}
