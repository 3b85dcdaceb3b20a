package chart

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
)

// has says that a label is there.
func (d *drawn) has(t *testing.T, words string) label {
	t.Helper()
	for _, l := range d.labels {
		if l.words == words {
			return l
		}
	}
	require.FailNow(t, "no label", "%q in %v", words, d.labels)
	return label{}
}

// log is where a share stands on a log axis, from two of its figures in %, which stand over their
// strokes with the middle of their words.
func (d *drawn) log(t *testing.T, low, high string) func(share float64) float64 {
	place := func(words string) float64 {
		l := d.has(t, words)
		return l.x + float64(wide(small, words))/2
	}
	a, b := place(low), place(high)
	per := (b - a) / math.Log(number(t, high)/number(t, low))
	return func(share float64) float64 { return a + per*math.Log(100*share/number(t, low)) }
}

// bars are filled boxes of a width: where their middle is, and from where to where they go upward.
func (d *drawn) bars(width float64) []stroke {
	var out []stroke
	for _, s := range d.strokes {
		if len(s.points) == 4 && s.radius == 0 && math.Abs(s.points[1][0]-s.points[0][0]-width) < 0.02 {
			out = append(out, s)
		}
	}
	return out
}

// A figure by itself has the name of its train and the words on its plan above it, and in its title and description,
// all of them however long they are; it is higher by that.
func TestFigureNamesItsTrainAndPlan(t *testing.T) {
	d := Couplings(view.FiguresOf(plannedOf(t, "five-machines")))[0]
	named := d.Named("string <one>", "plan 12ab; NOT ADVISED: 72.9 % chance")
	assert.Equal(t, d.Height+trainRoom+planRoom, named.Height)
	svg, err := named.Sized("svg", Size{})
	require.NoError(t, err)
	assert.Contains(t, string(svg),
		"<title>string &lt;one&gt;: Share of limit at the couplings, worst after the moves first "+
			"(plan 12ab; NOT ADVISED: 72.9 % chance)</title>")
	assert.Contains(t, string(svg), "<desc>Plan 12ab; NOT ADVISED: 72.9 % chance. ")
	assert.Regexp(t, `<text[^>]*>string &lt;one&gt;</text>`, string(svg))
	assert.Regexp(t, `<text[^>]*>plan 12ab; NOT ADVISED: 72.9 % chance</text>`, string(svg))
	plain, err := d.Named("", "").Sized("svg", Size{})
	require.NoError(t, err)
	assert.NotContains(t, string(plain), "string")

	long := d.Named("one", strings.Repeat("growth of a machine, ", 20))
	assert.Equal(t, d.Height+trainRoom+4*planRoom, long.Height)
	read := readBack(t, long)
	words := 0
	for _, l := range read.labels {
		words += strings.Count(l.words, "machine,")
	}
	assert.Equal(t, 20, words, "nothing is cut")
}

// A figure by itself that is too narrow for its letters is drawn as for a narrow screen, and those can be read down to
// the
// least width.
func TestNarrowFiguresHaveLettersToRead(t *testing.T) {
	f := view.FiguresOf(plannedOf(t, "five-machines"))
	for _, name := range Figures() {
		d := Alone(Of(name, f)).Named("five machines", "plan 12ab; NOT ADVISED: 72.9 % chance")
		require.NotNil(t, d.narrow, name)
		assert.GreaterOrEqual(t, float64(small*LeastWidth*vg.Millimeter/d.narrow.Width), leastLetter, name)
		legible(t, *d.narrow)
		for width, want := range map[float64]Drawing{LeastWidth: *d.narrow, 109: *d.narrow, 110: d} {
			want.narrow = nil
			shown, err := want.Sized("svg", Size{Width: width})
			require.NoError(t, err)
			svg, err := d.Sized("svg", Size{Width: width})
			require.NoError(t, err)
			assert.Equal(t, string(shown), string(svg), "%s, %g mm", name, width)
		}
	}
}

// A figure of several drawings has the title that they have in common.
func TestFigureOfSeveralDrawingsHasOneTitle(t *testing.T) {
	for want, titles := range map[string][2]string{
		"From above, left side up": {"From above, left side up, from a, b to c", "From above, left side up, from d to a, b"},
		"Room, least first":        {"Room, least first", "Room, least first, continued"},
	} {
		assert.Equal(t, want, Alone([]Drawing{{Title: titles[0]}, {Title: titles[1]}}).Title)
	}
}

// The order of rows is said, by what is known last.
func TestCouplingsSayTheirOrder(t *testing.T) {
	for _, c := range []struct {
		want  string
		times []view.Time
	}{
		{"Share of limit at the couplings as found, worst first", []view.Time{view.AsFound}},
		{"Share of limit at the couplings, worst after the moves first", []view.Time{view.Before, view.After}},
		{"Share of limit at the couplings, worst after the moves first",
			[]view.Time{view.Before, view.AsPlanned, view.After}},
	} {
		f := *view.FiguresOf(plannedOf(t, "five-machines"))
		f.Times = c.times
		assert.Equal(t, c.want, Couplings(&f)[0].Title)
	}
}
