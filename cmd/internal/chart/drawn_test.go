package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// A figure by itself has the name of its train above it and in its title; it is higher by that.
func TestFigureNamesItsTrain(t *testing.T) {
	d := Couplings(view.FiguresOf(plannedOf(t, "five-machines")))[0]
	named := d.Named("string <one>")
	assert.Equal(t, d.Height+trainRoom, named.Height)
	svg, err := named.Sized("svg", Size{})
	require.NoError(t, err)
	assert.Contains(t, string(svg), "<title>string &lt;one&gt;: Share of limit at the couplings, worst first</title>")
	assert.Regexp(t, `<text[^>]*>string &lt;one&gt;</text>`, string(svg))
	plain, err := d.Named("").Sized("svg", Size{})
	require.NoError(t, err)
	assert.NotContains(t, string(plain), "string")
}
