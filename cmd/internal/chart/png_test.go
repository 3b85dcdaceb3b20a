package chart

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// A PNG says how many dots it has to the inch, so that it is placed in a letter as wide as it was asked for.
func TestPNGSaysItsDots(t *testing.T) {
	d := Moves(view.FiguresOf(plannedOf(t, "turbine")))[0]
	for _, c := range []struct {
		size  Size
		dots  int
		metre uint32 // dots
	}{
		{Size{}, 2008, 11811},
		{Size{Width: 85, DPI: 600}, 2008, 23622},
		{Size{Width: 340, DPI: 100}, 1339, 3937},
	} {
		out, err := d.Sized("png", c.size)
		require.NoError(t, err)
		picture, err := png.Decode(bytes.NewReader(out))
		require.NoError(t, err, "with the chunk and its sum")
		assert.InDelta(t, c.dots, picture.Bounds().Dx(), 1)
		at := bytes.Index(out, []byte("pHYs"))
		require.Equal(t, 37, at, "right after IHDR")
		assert.Equal(t, c.metre, binary.BigEndian.Uint32(out[at+4:]))
		assert.Equal(t, c.metre, binary.BigEndian.Uint32(out[at+8:]))
		assert.EqualValues(t, 1, out[at+12], "the unit is the metre")
	}
}

// An SVG by itself says what it shows, with its numbers.
func TestSVGSaysWhatItShows(t *testing.T) {
	p := plannedOf(t, "turbine")
	for _, name := range Figures() {
		for _, d := range Of(name, view.FiguresOf(p)) {
			svg, err := d.Sized("svg", Size{})
			require.NoError(t, err)
			var doc struct {
				Title string `xml:"title"`
				Desc  string `xml:"desc"`
			}
			require.NoError(t, xml.Unmarshal(svg, &doc))
			assert.Equal(t, d.Title, doc.Title)
			assert.Regexp(t, "[0-9]", doc.Desc, name)
			assert.NotContains(t, string(svg), "Serif")
		}
	}
}

// Nothing is cut off at an edge: every label of every figure ends within it.
func TestNothingIsCutOff(t *testing.T) {
	for _, name := range []string{"turbine", "reverse-dials", "five-machines"} {
		f := view.FiguresOf(plannedOf(t, name))
		for _, figure := range Figures() {
			for _, d := range Of(figure, f) {
				for _, l := range readBack(t, d).labels {
					assert.GreaterOrEqual(t, l.x, 0.0, l.words)
					assert.GreaterOrEqual(t, l.y, 1.0, l.words)
					assert.LessOrEqual(t, l.x+float64(wide(small, l.words)), float64(d.Width), l.words)
				}
			}
		}
	}
}
