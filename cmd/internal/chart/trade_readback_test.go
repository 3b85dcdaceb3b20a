package chart

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// The points of the trade-off are where their numbers say, by the figures at the
// axes: two figures of an axis give its scale.
func TestTradeReadsBack(t *testing.T) {
	trade := curveByHand()
	figure, err := Trade(view.TradeOf(&train.Train{}, trade), nil)
	require.NoError(t, err)
	d := readBack(t, figure, true) // the name of the upright axis is turned
	var points [][2]float64
	for _, s := range d.strokes {
		if s.filled && s.radius > 2.4 && s.radius < 2.6 {
			points = append(points, s.points[0])
		}
	}
	require.Len(t, points, len(trade.Points)+1, "and one in the legend")
	across := d.scale(t, func(l label) float64 { return l.x }, "60", "80")
	up := d.scale(t, func(l label) float64 { return l.y }, "0", "5")
	for n := 1; n < len(trade.Points); n++ {
		a, b := trade.Points[n-1], trade.Points[n]
		assert.InDelta(t, 100*(b.Use-a.Use), (points[n][0]-points[n-1][0])/across, 0.2)
		assert.InDelta(t, b.Total-a.Total, (points[n][1]-points[n-1][1])/up, 0.02)
	}
}

// scale is points for one unit of an axis, from two figures of it that have as
// many digits.
func (d *drawn) scale(t *testing.T, at func(label) float64, low, high string) float64 {
	place := func(words string) float64 {
		for _, l := range d.labels {
			if l.words == words {
				return at(l)
			}
		}
		t.Fatalf("no figure %q at an axis: %v", words, d.labels)
		return 0
	}
	a, err := strconv.ParseFloat(low, 64)
	require.NoError(t, err)
	b, err := strconv.ParseFloat(high, 64)
	require.NoError(t, err)
	return (place(high) - place(low)) / (b - a)
}
