// Package chart draws figures. They are read in black and white too: what is
// what is told by dashes and marks, never by colour.
package chart

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// Formats are those that a figure can be drawn in.
func Formats() []string { return []string{"svg", "png", "pdf"} }

// tradeHeight is that of the figure of a trade-off.
const tradeHeight = 10.5 * vg.Centimeter

// Trade draws the total movement against the worst use of a coupling limit, and
// beneath it against how many machines are moved where subsets are given (nil: not).
func Trade(trade *view.Trade, subsets *view.Subsets) (Drawing, error) {
	use, err := againstUse(trade)
	if err != nil {
		return Drawing{}, err
	}
	plots := [][]*plot.Plot{{use}}
	titles := []string{"Movement against the worst use of a coupling limit"}
	if subsets != nil {
		moved, err := againstMoved(trade, subsets)
		if err != nil {
			return Drawing{}, err
		}
		plots = append(plots, []*plot.Plot{moved})
		titles = append(titles, "Movement against the machines moved")
	}
	height := tradeHeight * vg.Length(len(plots))
	return Drawing{Title: titles[0], Width: usualWidth, Height: height, draw: func(c *sheet) {
		c.title(titles[0])
		whole := c.Canvas
		whole.Max.Y -= titleRoom
		whole.Min.X += 4
		tiles := draw.Tiles{Rows: len(plots), Cols: 1, PadY: titleRoom + vg.Centimeter/2}
		for n, at := range plot.Align(plots, tiles, whole) {
			plots[n][0].Draw(at[0])
		}
	}}, nil
}

// againstUse is the total against the worst use.
func againstUse(trade *view.Trade) (*plot.Plot, error) {
	p := framed(trade)
	p.X.Label.Text = "worst use of a coupling limit (% of the limit)"
	for _, c := range curves(trade.Units) {
		if err := add(p, trade, c); err != nil {
			return nil, err
		}
	}
	p.Y.Max *= headroom
	if trade.Knee >= 0 {
		if err := markKnee(p, trade.Units, trade.Points[trade.Knee]); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// headroom is left above the curves for what names them.
const headroom = 1.3

// framed is a figure of total movement without its curves.
func framed(trade *view.Trade) *plot.Plot {
	p := plot.New()
	p.Y.Label.Text = "total movement (" + moveUnit(trade.Units) + ")"
	if trade.Weighted {
		p.Y.Label.Text = "total movement, weighted (" + moveUnit(trade.Units) + ")"
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks{}, ticks{}
	p.Y.Min = 0
	p.Legend.Top = true
	p.Legend.Padding = vg.Points(3)
	for _, style := range []*draw.TextStyle{&p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label,
		&p.Legend.TextStyle} {
		style.Font = letters(large, 0, 0).Font
	}
	p.Add(plotter.NewGrid())
	return p
}

func moveUnit(u train.Units) string {
	if u == train.Inches {
		return "mil"
	}
	return "mm"
}

// ticks are the usual ones, without zeros that say nothing.
type ticks struct{ plot.DefaultTicks }

func (t ticks) Ticks(least, most float64) []plot.Tick {
	all := t.DefaultTicks.Ticks(least, most)
	for i := range all {
		all[i].Label = strings.TrimSuffix(all[i].Label, ".00")
	}
	return all
}

// A curve is one line of the figure.
type curve struct {
	name   string
	value  func(view.TradePoint) float64 // in the unit of moves
	dashes []vg.Length
	marked bool
}

func curves(u train.Units) []curve {
	in := func(value func(view.TradePoint) float64) func(view.TradePoint) float64 {
		return func(p view.TradePoint) float64 { return value(p) / u.Move() }
	}
	return []curve{
		{"plan, whole steps", in(func(p view.TradePoint) float64 { return p.Total }), nil, true},
		{"no plan is below (proven)", in(func(p view.TradePoint) float64 { return p.Bound }),
			[]vg.Length{vg.Points(5), vg.Points(3)}, false},
		{"without whole steps", in(func(p view.TradePoint) float64 { return p.Relaxed }),
			[]vg.Length{vg.Points(1), vg.Points(3)}, false},
	}
}

// add draws a curve, leaving out points that have no value.
func add(p *plot.Plot, trade *view.Trade, c curve) error {
	var xy plotter.XYs
	for _, point := range trade.Points {
		if v := c.value(point); !math.IsNaN(v) && !math.IsInf(v, 0) {
			xy = append(xy, plotter.XY{X: 100 * point.Use, Y: v})
		}
	}
	if len(xy) == 0 {
		return nil
	}
	line, points, err := plotter.NewLinePoints(xy)
	if err != nil {
		return err
	}
	line.Color, line.Dashes = color.Black, c.dashes
	if !c.marked {
		p.Add(line)
		p.Legend.Add(c.name, line)
		return nil
	}
	points.Color, points.Shape, points.Radius = color.Black, draw.CircleGlyph{}, vg.Points(2.5)
	p.Add(line, points)
	p.Legend.Add(c.name, line, points)
	return nil
}

// markKnee names the knee.
func markKnee(p *plot.Plot, u train.Units, knee view.TradePoint) error {
	at := plotter.XYs{{X: 100 * knee.Use, Y: knee.Total / u.Move()}}
	ring, err := plotter.NewScatter(at)
	if err != nil {
		return err
	}
	ring.Color, ring.Shape, ring.Radius = color.Black, draw.RingGlyph{}, vg.Points(6)
	label, err := plotter.NewLabels(plotter.XYLabels{XYs: at, Labels: []string{"knee: " + words.Percent(knee.Use)}})
	if err != nil {
		return err
	}
	label.TextStyle[0].Font = letters(large, 0, 0).Font
	label.Offset = vg.Point{X: vg.Points(8), Y: vg.Points(8)}
	p.Add(ring, label)
	return nil
}
