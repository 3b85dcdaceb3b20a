package chart

import (
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leastmove/cmd/internal/view"
)

// againstMoved is the total against how many machines are moved at most.
func againstMoved(trade *view.Trade, subsets *view.Subsets) (*plot.Plot, error) {
	p := framed(trade)
	p.Title.Text = "Movement against the machines moved"
	p.X.Label.Text = "machines moved, at most"
	p.X.Tick.Marker = counts(len(subsets.Curve))
	p.X.Min, p.X.Max = 0, float64(len(subsets.Curve)-1)+0.2
	var totals, bounds plotter.XYs
	for _, c := range subsets.Curve {
		if !math.IsNaN(c.Total) {
			totals = append(totals, plotter.XY{X: float64(c.Moved), Y: c.Total / trade.Units.Move()})
		}
		if !math.IsNaN(c.Bound) && !math.IsInf(c.Bound, 1) {
			bounds = append(bounds, plotter.XY{X: float64(c.Moved), Y: c.Bound / trade.Units.Move()})
		}
	}
	if len(totals) > 0 {
		line, points, err := plotter.NewLinePoints(totals)
		if err != nil {
			return nil, err
		}
		line.Color = color.Black
		points.Color, points.Shape, points.Radius = color.Black, draw.CircleGlyph{}, vg.Points(2.5)
		p.Add(line, points)
		p.Legend.Add("plan, whole steps", line, points)
	}
	if len(bounds) > 0 {
		marks, err := plotter.NewScatter(bounds)
		if err != nil {
			return nil, err
		}
		marks.Color, marks.Shape, marks.Radius = color.Black, dash{}, vg.Points(7)
		p.Add(marks)
		p.Legend.Add("no plan is below (proven)", marks)
	}
	p.Y.Max *= headroom
	return p, nil
}

// counts are ticks at whole numbers from 0.
type counts int

// Ticks are those of plot.Ticker.
func (n counts) Ticks(_, _ float64) []plot.Tick {
	var all []plot.Tick
	for i := range int(n) {
		all = append(all, plot.Tick{Value: float64(i), Label: strconv.Itoa(i)})
	}
	return all
}

// A dash is a level stroke.
type dash struct{}

// DrawGlyph draws it.
func (dash) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(draw.LineStyle{Color: style.Color, Width: vg.Points(1)})
	var p vg.Path
	p.Move(vg.Point{X: at.X - style.Radius, Y: at.Y})
	p.Line(vg.Point{X: at.X + style.Radius, Y: at.Y})
	c.Stroke(p)
}
