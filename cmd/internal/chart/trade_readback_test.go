package chart

import (
	"math"
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
	all := view.TradeOf(&train.Train{}, trade)
	all.This = &view.ThisPlan{Aim: 0.7, Use: 0.69, Total: 6.5, Decimals: 2}
	d := readBack(t, Trade(all, nil))
	var points [][2]float64
	for _, s := range d.strokes {
		if s.filled && s.radius == 2.3 {
			points = append(points, s.points[0])
		}
	}
	require.Len(t, points, len(trade.Points)+1, "and one in the legend")
	across := d.scale(t, func(l label) float64 { return l.x }, "60", "80")
	up := d.scale(t, func(l label) float64 { return l.y }, "5", "10")
	for n := 1; n < len(trade.Points); n++ {
		a, b := trade.Points[n-1], trade.Points[n]
		assert.InDelta(t, 100*(b.Use-a.Use), (points[n][0]-points[n-1][0])/across, 0.2)
		assert.InDelta(t, b.Total-a.Total, (points[n][1]-points[n-1][1])/up, 0.02)
	}
	// The box of this plan, and the line at its aim, from the first point on.
	d.has(t, "this plan: 69 %, 6.50 mm")
	d.has(t, "aim 70 %")
	found := false
	for _, s := range d.strokes {
		if s.width == 1.1 && len(s.points) == 4 {
			found = true
			x, y := (s.points[0][0]+s.points[2][0])/2, (s.points[0][1]+s.points[2][1])/2
			assert.InDelta(t, 69-35, (x-points[0][0])/across, 0.2)
			assert.InDelta(t, 6.5-9, (y-points[0][1])/up, 0.02)
		}
	}
	assert.True(t, found, "no box about this plan")
	aims := d.lines(0.9, "3,2")
	require.Len(t, aims, 1)
	assert.InDelta(t, 70-35, (aims[0].points[0][0]-points[0][0])/across, 0.2)
}

// No line of what is proven passes over a plan that is known, and no line of plans says that there is one where none
// is: both go in steps, the plan that was chosen among them.
func TestTradeGoesInSteps(t *testing.T) {
	trade := view.TradeOf(&train.Train{}, curveByHand())
	trade.This = &view.ThisPlan{Aim: 0.7, Use: 0.69, Total: 6.5, Decimals: 2}
	d := readBack(t, Trade(trade, nil))
	across := d.scale(t, func(l label) float64 { return l.x }, "60", "80")
	up := d.scale(t, func(l label) float64 { return l.y }, "5", "10")
	var first [2]float64
	for _, s := range d.strokes {
		if s.filled && s.radius == 2.3 {
			first = s.points[0] // 35 %, 9 mm
			break
		}
	}
	at := func(p [2]float64) (use, total float64) {
		return 35 + (p[0]-first[0])/across, 9 + (p[1]-first[1])/up
	}
	steps := func(lines []stroke) (lasting [][3]float64) { // from, to, total
		for _, s := range lines {
			u0, t0 := at(s.points[0])
			u1, t1 := at(s.points[1])
			if t0 < 0.1 || u1 > 101 { // axes and legend
				continue
			}
			require.True(t, math.Abs(u0-u1) < 0.01 || math.Abs(t0-t1) < 0.001, "a slanted line from %g to %g %%", u0, u1)
			if u1 > u0+0.01 {
				lasting = append(lasting, [3]float64{u0, u1, t0})
			}
		}
		return lasting
	}
	plans := steps(d.lines(1.1, ""))
	require.Len(t, plans, 3)
	for n, want := range [][3]float64{{35, 62.03, 9}, {62.03, 69, 6.72}, {69, 100, 6.5}} {
		assert.InDeltaSlice(t, want[:], plans[n][:], 0.05)
	}
	proven := steps(d.lines(0.7, "5,3"))
	require.Len(t, proven, 1, "nothing is proven for the middle point")
	assert.InDeltaSlice(t, []float64{35, 100, 5.95}, proven[0][:], 0.05)
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
