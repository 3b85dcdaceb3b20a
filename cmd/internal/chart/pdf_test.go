package chart

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/testdata/outside"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// wordsOf is the text of a PDF as poppler reads it, without blanks.
func wordsOf(t *testing.T, pdf []byte) string {
	t.Helper()
	return strings.Join(strings.Fields(outside.Poppler(t, pdf, "pdftotext", "-raw")), "")
}

// labelsOf is all text of a drawing, from its SVG, without blanks.
func labelsOf(t *testing.T, d Drawing) []string {
	var all []string
	for _, l := range readBack(t, d, true).labels {
		all = append(all, strings.Join(strings.Fields(l.words), ""))
	}
	return all
}

// odd is an example with letters of several scripts in its names, one of which is too
// long to be drawn whole.
func odd(t *testing.T) *train.Train {
	text, err := os.ReadFile("../../../examples/turbine/before.toml")
	require.NoError(t, err)
	s := string(text)
	for _, change := range [][2]string{
		{`"turbine"`, `"Kühlpumpe süd"`},
		{`"compressor"`, `"` + strings.Repeat("Ωμέγα ", 30) + `"`},
		{`"high speed"`, `"Муфта № 1, łożysko"`},
		{`{ turbine = 0.3 }`, `{ "Kühlpumpe süd" = 0.3 }`},
		{`"exhaust"`, `"Fuß größer"`},
	} {
		require.Contains(t, s, change[0])
		s = strings.ReplaceAll(s, change[0], change[1])
	}
	tr, faults := trainfile.Read("odd", []byte(s), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
		Thread: bolts.Thread, Minor: bolts.Minor})
	require.NotNil(t, tr, "%v", faults)
	return tr
}

// Every figure says in PDF what it says in SVG, letter for letter, in any script that
// the font has, and with the mark for what was cut off.
func TestPDFFiguresReadBack(t *testing.T) {
	p, err := ways.Make(t.Context(), odd(t), optimize.Options{Brief: true})
	require.NoError(t, err)
	drawings := map[string][]Drawing{}
	for _, name := range Figures() {
		drawings[name] = Of(name, view.FiguresOf(p))
	}
	drawings["tradeoff"] = []Drawing{Trade(view.TradeOf(p.Train, curveByHand()), nil)}
	_, result := notMade(t)
	drawings["verified"] = append(VerifiedTrain(result.Figures()), Couplings(result.Figures())...)
	all := ""
	for name, of := range drawings {
		require.NotEmpty(t, of, name)
		for _, d := range of {
			pdf, err := d.Sized("pdf", Size{})
			require.NoError(t, err)
			words := wordsOf(t, pdf)
			all += words
			for _, label := range labelsOf(t, d) {
				assert.Contains(t, words, label, name)
			}
			again, err := d.Sized("pdf", Size{})
			require.NoError(t, err)
			assert.True(t, slices.Equal(pdf, again), "%s: not the same bytes each time", name)
		}
	}
	for _, words := range []string{"Kühlpumpesüd", "ΩμέγαΩμέγα", "…", "Муфта№1,łożysko", "Fußgrößer"} {
		assert.Contains(t, all, words)
	}
}

// A letter that the font does not have is replaced by a mark, and one that reads from
// the right stands in that order.
func TestPDFOfOtherLetters(t *testing.T) {
	d := Drawing{Width: usualWidth, Height: usualWidth, draw: func(c *sheet) {
		c.text(large, 0, 0, 20, 20, "a 泵 b")
		c.text(large, 0, 0, 20, 60, "משאבה")
		c.circle(outline(), 50, 50, 20)
	}}
	pdf, err := d.Sized("pdf", Size{})
	require.NoError(t, err)
	words := wordsOf(t, pdf)
	assert.Contains(t, words, "a\uFFFDb")
	assert.Contains(t, words, "משאבה")
}
