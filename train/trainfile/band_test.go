package trainfile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// plant is a file of bands in inches; 2 mils are 0.0508 mm.
const plant = "title = \"plant standard (invented)\"\nunits = \"inch\"\n[[band]]\nup_to_rpm = 1800\noffset = " +
	"2\nangle = 0.5\nflex_angle = 0.6\n"

// bandless is the sound file with its coupling's limits taken out.
func bandless(t *testing.T) string {
	text := strings.Replace(sound(t), "[coupling.limit]\noffset = 0.05\nangle  = 0.5\n", "", 1)
	require.NotContains(t, text, "limit")
	return text
}

// Bands come from the coupling, from the train, from the other file, in this order.
func TestBandsOfAnotherFile(t *testing.T) {
	own := "\n[[band]]\nup_to_rpm = 1800\noffset = 0.07\nangle = 0.4\n"
	for _, c := range []struct {
		why, train    string
		offset, angle float64
		warnings      int
	}{
		{"the other file's, in its own units", bandless(t), 0.0508, 0.5, 0},
		{"the train's own before those", bandless(t) + own, 0.07, 0.4, 1},
		{"the coupling's own before both", sound(t) + own, 0.05, 0.5, 1},
	} {
		with := options
		with.Bands = &File{Name: "plant.toml", Text: []byte(plant)}
		got, report := Read("train.toml", []byte(c.train), with)
		require.NotNil(t, got, report.String())
		assertNear(t, c.offset, got.Couplings[0].Limit.Offset, c.why)
		assertNear(t, c.angle, got.Couplings[0].Limit.Angle, c.why)
		assert.Equal(t, c.warnings, report.Count(Warning), c.why)
		if c.warnings > 0 {
			assert.Contains(t, report.String(), `this train has bands of its own: those of "plant.toml" are not used`)
		}
	}
}

// Limits by kind of coupling: a spacer takes flex_angle and has no offset, one with
// a single plane takes offset and angle.
func TestBandsOfASpacer(t *testing.T) {
	text := strings.Replace(bandless(t), "[[coupling]]\n", "[[coupling]]\nflex = [650, 750]\n", 1)
	with := options
	with.Bands = &File{Name: "plant.toml", Text: []byte(plant)}
	got, report := Read("train.toml", []byte(text), with)
	require.NotNil(t, got, report.String())
	c := got.Couplings[0]
	require.True(t, c.Spacer)
	assert.Equal(t, 0.6, c.Limit.Angle)
	assert.True(t, math.IsInf(c.Limit.Offset, 1))
}

// What is wrong with the bands is said in their own file, and not again at the
// couplings that wait for them.
func TestFaultsOfBands(t *testing.T) {
	for _, c := range []struct{ why, text, says string }{
		{"no units", strings.Replace(plant, "units = \"inch\"\n", "", 1), "plant.toml:1:1: error: units is missing"},
		{"another table", plant + "[[machine]]\n", `plant.toml:8:1: error: unknown key "machine"`},
		{"a band of a train file's kind of fault", strings.Replace(plant, "angle = 0.5", "angel = 0.5", 1),
			`plant.toml:6:1: error: unknown key "angel"`},
		{"not TOML", "[[band", "plant.toml:1:"},
		{"empty", "", "plant.toml:1:1: error: band is missing"},
		{"half a band", "units = \"mm\"\n[[band]]\nup_to_rpm = 1000\noffset = 0.1\n",
			"plant.toml:2:1: error: a band needs offset and angle"},
	} {
		with := options
		with.Bands = &File{Name: "plant.toml", Text: []byte(c.text)}
		got, report := Read("train.toml", []byte(bandless(t)), with)
		assert.Nil(t, got, c.why)
		assert.Contains(t, report.String(), c.says, c.why)
		assert.NotContains(t, report.String(), "train.toml:", c.why)
	}
	with := options
	with.Bands = &File{Name: "plant.toml", Text: []byte(strings.Replace(plant, "1800", "900", 1))}
	got, report := Read("train.toml", []byte(bandless(t)), with)
	assert.Nil(t, got)
	assert.Contains(t, report.String(),
		`train.toml:37:1: error: coupling "main" has no limits: it runs at 1500 1/min, the bands of "plant.toml" end at 900 1/min`)
	// A size that bands hardly have is doubted in their file.
	with.Bands.Text = []byte(strings.Replace(plant, "offset = 2\n", "offset = 0.002\n", 1))
	got, report = Read("train.toml", []byte(bandless(t)), with)
	require.NotNil(t, got, report.String())
	assert.Contains(t, report.String(), "plant.toml:5:10: warning: offset is 0.002 mil: 0.2 to 39 mil is usual")
}
