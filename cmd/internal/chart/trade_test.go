package chart

import (
	"bytes"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize/ways"
	"leastmove/train"
)

func curveByHand() *ways.ParetoFront {
	return &ways.ParetoFront{Knee: 1, Points: []ways.ParetoPoint{
		{Use: 0.35, Total: 9, Bound: 8.9, Relaxed: 8.7},
		{Use: 0.6203, Total: 6.72, Bound: math.NaN(), Relaxed: 6.5},
		{Use: 1, Total: 6, Bound: 5.95, Relaxed: 5.8},
	}}
}

// The figure has its words and units, needs no colour, and is the same each
// time.
func TestTradeFigure(t *testing.T) {
	inches := &train.Train{Units: train.Inches}
	svg, err := drawTrade(inches, curveByHand(), nil, "svg")
	require.NoError(t, err)
	for _, words := range []string{"(mil)", "share of limit", "plan, whole steps", "no plan is below",
		"without whole steps", "knee: 62.1 %"} {
		assert.Contains(t, string(svg), words)
	}
	again, err := drawTrade(inches, curveByHand(), nil, "svg")
	require.NoError(t, err)
	assert.Equal(t, svg, again)
	raster, err := drawTrade(&train.Train{}, curveByHand(), nil, "png")
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(raster))
	require.NoError(t, err)
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			r, g, b, _ := picture.At(x, y).RGBA()
			require.True(t, r == g && g == b, "grey at %d, %d", x, y)
		}
	}
	pdf, err := drawTrade(&train.Train{}, curveByHand(), nil, "pdf")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF")))
	assert.Equal(t, 2, bytes.Count(pdf, []byte("Date (D:19700101000000)")),
		"not the hour of the clock: the same bytes each time")
	_, err = drawTrade(&train.Train{}, curveByHand(), nil, "bmp")
	assert.Error(t, err)
}

func TestTradeFigureWithoutPoints(t *testing.T) {
	_, err := drawTrade(&train.Train{}, &ways.ParetoFront{Knee: -1}, nil, "svg")
	assert.NoError(t, err)
}

// With subsets there is a second part of the figure, as wide and as high; what is not
// known is left out.
func TestMovedFigure(t *testing.T) {
	subsets := &view.Subsets{Curve: []view.SubsetPoint{
		{Moved: 0, Total: math.NaN(), Bound: math.Inf(1)}, {Moved: 1, Total: 9, Bound: math.NaN()},
		{Moved: 2, Total: 7, Bound: 6.9},
	}}
	svg, err := drawTrade(&train.Train{}, curveByHand(), subsets, "svg")
	require.NoError(t, err)
	for _, words := range []string{"machines moved, at most", "Total movement against the machines moved",
		"Total movement against the worst share of limit", "(mm)"} {
		assert.Contains(t, string(svg), words)
	}
	one, err := drawTrade(&train.Train{}, curveByHand(), nil, "png")
	require.NoError(t, err)
	two, err := drawTrade(&train.Train{}, curveByHand(), subsets, "png")
	require.NoError(t, err)
	single, err := png.Decode(bytes.NewReader(one))
	require.NoError(t, err)
	double, err := png.Decode(bytes.NewReader(two))
	require.NoError(t, err)
	assert.Equal(t, single.Bounds().Dx(), double.Bounds().Dx())
	assert.InDelta(t, float64(2*single.Bounds().Dy())+10/25.4*72, float64(double.Bounds().Dy()), 2,
		"two of them, 10 mm apart")
	for y := range double.Bounds().Dy() {
		for x := range double.Bounds().Dx() {
			r, g, b, _ := double.At(x, y).RGBA()
			require.True(t, r == g && g == b, "grey at %d, %d", x, y)
		}
	}
	_, err = drawTrade(&train.Train{}, curveByHand(), &view.Subsets{}, "svg")
	assert.NoError(t, err)
}

func drawTrade(t *train.Train, trade *ways.ParetoFront, subsets *view.Subsets, format string) ([]byte, error) {
	return Trade(view.TradeOf(t, trade), subsets).Sized(format, Size{DPI: 72})
}
