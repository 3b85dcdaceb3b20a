package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Worked by hand: the pump's front feet, 250 mm to the side, warm by 50 °C and are of steel, 6.3e-6 per °F (McMillan,
// Rotating Machinery: Practical Solutions to Unbalance and Misalignment, 2004, p. 134, Table 8-3), thus 11.34e-6 per
// °C: 250 × 50 × 11.34e-6 = 0.14175 mm outwards. The rear ones of grey iron, 6.0e-6 per °F (Elements of Metric Gear
// Technology), and 30 °C: 250 × 30 × 10.8e-6 = 0.081 mm.
func TestSlideSidewaysByHand(t *testing.T) {
	text := strings.Replace(sound(t), "at     = 1500\nheight = 400\ngrowth = [{ v = 0.0 }]\n",
		"at     = 1500\nheight = 400\n", 1)
	text = strings.Replace(text, "x      = 0\nspread = 500\n", "x = 0\nspread = 500\nrise = 50\nmaterial = \"steel\"\n", 1)
	text = strings.Replace(text, "x      = 800\nspread = 500\n",
		"x = 800\nspread = 500\nrise = 30\nmaterial = \"grey iron\"\n", 1)
	got, report := Read("rise", []byte(text), Options{})
	require.NotNil(t, got, "%v", report)
	want := []float64{0.14175, -0.14175, 0.081, -0.081}
	for f, foot := range got.Machines[1].Feet {
		assertNear(t, want[f], foot.Slide[1], foot.Name)
		assert.Zero(t, foot.Slide[0], "growth along is not stated")
	}
	along, sideways := got.SlideUnknown(1)
	assert.Equal(t, [2]bool{true, false}, [2]bool{along, sideways})
}

// Growth along of 0.1 at 0 and 0.5 at 800, read at each foot; in an inch file mils are converted.
func TestSlideAlongByHand(t *testing.T) {
	const growth = "growth = [{ x = 0, v = 0.1, a = 0.1 }, { x = 800, v = 0.1, a = 0.5 }]\n"
	text := strings.Replace(sound(t), "at     = 1500\nheight = 400\ngrowth = [{ v = 0.0 }]\n",
		"at     = 1500\nheight = 400\n"+growth, 1)
	got, report := Read("along", []byte(text), Options{})
	require.NotNil(t, got, "%v", report)
	for f, want := range []float64{0.1, 0.1, 0.5, 0.5} {
		assertNear(t, want, got.Machines[1].Feet[f].Slide[0], "foot")
		assert.Zero(t, got.Machines[1].Feet[f].Slide[1], "no rise")
	}
}

// Clearance that must be left, in mm; more than the hole has of it can never be.
func TestFree(t *testing.T) {
	text := strings.Replace(sound(t), "hole   = 22\n", "hole   = 22\nfree   = 0.25\n", 1)
	got, report := Read("free", []byte(text), Options{})
	require.NotNil(t, got, "%v", report)
	assert.Equal(t, 0.25, got.Machines[1].Feet[0].Free)
	assert.Zero(t, got.Machines[1].Feet[2].Free)
}
