package chart

import (
	"bytes"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/train"
)

func curveByHand() *optimize.Trade {
	return &optimize.Trade{Knee: 1, Points: []optimize.TradePoint{
		{Use: 0.35, Total: 9, Bound: 8.9, Relaxed: 8.7},
		{Use: 0.62, Total: 6.72, Bound: math.NaN(), Relaxed: 6.5},
		{Use: 1, Total: 6, Bound: 5.95, Relaxed: 5.8},
	}}
}

// The figure has its words and units, needs no colour, and is the same each
// time.
func TestTradeFigure(t *testing.T) {
	inches := &train.Train{Units: train.Inches}
	svg, err := drawTrade(inches, curveByHand(), "svg")
	require.NoError(t, err)
	for _, words := range []string{"(mil)", "of the limit", "plan, whole steps", "no plan is below", "without whole steps", "knee: 62"} {
		assert.Contains(t, string(svg), words)
	}
	again, err := drawTrade(inches, curveByHand(), "svg")
	require.NoError(t, err)
	assert.Equal(t, svg, again)
	raster, err := drawTrade(&train.Train{}, curveByHand(), "png")
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(raster))
	require.NoError(t, err)
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			r, g, b, _ := picture.At(x, y).RGBA()
			require.True(t, r == g && g == b, "grey at %d, %d", x, y)
		}
	}
	pdf, err := drawTrade(&train.Train{}, curveByHand(), "pdf")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF")))
	_, err = drawTrade(&train.Train{}, curveByHand(), "bmp")
	assert.Error(t, err)
}

func TestTradeFigureWithoutPoints(t *testing.T) {
	_, err := drawTrade(&train.Train{}, &optimize.Trade{Knee: -1}, "svg")
	assert.NoError(t, err)
}

func drawTrade(t *train.Train, trade *optimize.Trade, format string) ([]byte, error) {
	d, err := Trade(t, trade)
	if err != nil {
		return nil, err
	}
	return d.Render(format)
}
