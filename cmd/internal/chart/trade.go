// Package chart draws figures. They are read in black and white too: what is
// what is told by dashes and marks, never by colour.
package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// Formats are those that a figure can be drawn in.
func Formats() []string { return []string{"svg", "png", "pdf"} }

// tradeHeight is that of the figure of a trade-off.
const tradeHeight = 8 * vg.Centimeter

// tradeLine is the height of a line under it that says which curve is which.
const tradeLine = 12

// Trade draws the total movement against the worst share of limit, and
// beneath it against how many machines are moved where subsets are given (nil: not).
func Trade(trade *view.Trade, subsets *view.Subsets) Drawing {
	const title = "Total movement against the worst share of limit"
	drawing := func(width vg.Length, lines int) Drawing {
		return Drawing{Title: title, Desc: tradeDesc(trade), Width: width, Height: tradeHeight + tradeLine*vg.Length(lines),
			draw: func(c *sheet) {
				c.title(title)
				againstUse(c, trade, lines)
			}}
	}
	first, narrow := drawing(usualWidth, 1), drawing(phoneWidth, 3)
	first.narrow = &narrow
	if subsets == nil {
		return first
	}
	return Stacked(first.Title, []Drawing{first, moved(trade, subsets)})
}

// frame is a graph's two axes and the room about them.
type frame struct{ x, y axis }

// Room about a graph in points.
const (
	frameLeft  = 44
	frameRight = 20
	frameFoot  = 30
	frameHead  = 16 // under the title, for the upright axis' name
)

// framed draws the axes of a graph and what they are called.
func framed(c *sheet, x [2]float64, most float64, across, up string) frame {
	f := frame{
		x: axisOver(x[0], x[1], c.Min.X+frameLeft, c.Max.X-frameRight, 46),
		y: axisOver(0, most, c.Min.Y+frameFoot, c.Max.Y-titleRoom-frameHead, 30),
	}
	values, labels := f.y.figures()
	for n, v := range values {
		y := f.y.at(v)
		c.line(pen(0.2), f.x.start, y, f.x.end, y)
		c.text(normal, -1, -0.35, f.x.start-5, y, labels[n])
	}
	values, labels = f.x.figures()
	for n, v := range values {
		x := f.x.at(v)
		c.line(hair(), x, f.y.start-3, x, f.y.start)
		c.text(normal, -0.5, -1, x, f.y.start-4, labels[n])
	}
	c.line(outline(), f.x.start, f.y.start, f.x.end, f.y.start)
	c.line(outline(), f.x.start, f.y.start, f.x.start, f.y.end)
	c.text(normal, 0, 0, c.Min.X+6, f.y.end+5, up)
	c.text(normal, -0.5, 0, (f.x.start+f.x.end)/2, c.Min.Y+5, across)
	return f
}

// totalName is that of the axis of totals.
func totalName(trade *view.Trade) string {
	if trade.Weighted {
		return "total movement, weighted (" + moveUnit(trade.Units) + ")"
	}
	return "total movement (" + moveUnit(trade.Units) + ")"
}

func moveUnit(u train.Units) string {
	if u == train.Inches {
		return "mil"
	}
	return "mm"
}

// A curve is one line of the figure.
type curve struct {
	name  string
	value func(view.TradePoint) float64 // mm
	style style
	goes  way
}

// A way is how a curve goes from point to point. A plan keeps every share above its own too, and what is proven for a
// share is proven below it too: no line from point to point says either.
type way int

const (
	straight  way = iota
	thenDown      // at the last point's total up to the next one's share
	downFirst     // at the next point's total from the last one's share on
)

func curves() []curve {
	return []curve{
		{"plan, whole steps", func(p view.TradePoint) float64 { return p.Total }, pen(1.1), thenDown},
		{"no plan is below (proven)", func(p view.TradePoint) float64 { return p.Bound }, pen(0.7, 5, 3), downFirst},
		{"without whole steps", func(p view.TradePoint) float64 { return p.Relaxed }, pen(0.7, 1, 2.5), straight},
	}
}

// step is one step of a curve.
func (k curve) step(c *sheet, x0, y0, x1, y1 vg.Length) {
	switch k.goes {
	case thenDown:
		c.line(k.style, x0, y0, x1, y0)
		c.line(k.style, x1, y0, x1, y1)
	case downFirst:
		c.line(k.style, x0, y0, x0, y1)
		c.line(k.style, x0, y1, x1, y1)
	default:
		c.line(k.style, x0, y0, x1, y1)
	}
}

// withThis are the points of a curve of plans, and the plan that was chosen where no point is as good.
func withThis(trade *view.Trade) []view.TradePoint {
	t := trade.This
	if t == nil {
		return trade.Points
	}
	at := len(trade.Points)
	for n, p := range trade.Points {
		if p.Use <= t.Use && p.Total <= t.Total {
			return trade.Points
		}
		if p.Use > t.Use {
			at = min(at, n)
		}
	}
	this := view.TradePoint{Use: t.Use, Total: t.Total, Bound: math.NaN(), Relaxed: math.NaN()}
	return slices.Insert(slices.Clone(trade.Points), at, this)
}

// againstUse is the total against the worst share of limit; which curve is which stands below in so many lines.
func againstUse(c *sheet, trade *view.Trade, lines int) {
	unit, most := trade.Units.Move(), 0.0
	span := [2]float64{1, 0}
	for _, p := range trade.Points {
		span = [2]float64{math.Min(span[0], p.Use), math.Max(span[1], p.Use)}
		for _, v := range []float64{p.Total, p.Bound, p.Relaxed} {
			if known(v) {
				most = math.Max(most, v/unit)
			}
		}
	}
	if trade.This != nil {
		most = math.Max(most, trade.This.Total/unit)
	}
	if len(trade.Points) == 0 {
		span = [2]float64{0, 1}
	}
	pad := 0.03 * (span[1] - span[0])
	graph := *c
	graph.Min.Y += tradeLine * vg.Length(lines)
	f := framed(&graph, [2]float64{100 * (span[0] - pad), 100 * (span[1] + pad)}, 1.25*math.Max(most, 1e-9),
		"worst share of limit (%)", totalName(trade))
	at := func(use, total float64) (x, y vg.Length) { return f.x.at(100 * use), f.y.at(total / unit) }
	left, foot := vg.Length(6), graph.Min.Y-tradeLine/2
	for n, k := range curves() {
		drawn := false
		var before *[2]vg.Length
		points := trade.Points
		if n == 0 {
			points = withThis(trade)
		}
		for _, p := range points {
			v := k.value(p)
			if !known(v) {
				continue
			}
			x, y := at(p.Use, v)
			if n == 0 && !(trade.This != nil && p.Use == trade.This.Use && p.Total == trade.This.Total) {
				c.disc(x, y, 2.3)
			}
			if before != nil {
				k.step(c, before[0], before[1], x, y)
			}
			before, drawn = &[2]vg.Length{x, y}, true
		}
		if !drawn {
			continue
		}
		c.line(k.style, left, foot, left+24, foot)
		if n == 0 {
			c.disc(left+12, foot, 2.3)
		}
		c.text(normal, 0, -0.35, left+29, foot, k.name)
		if left += 29 + wide(normal, k.name) + 14; lines > 1 {
			left, foot = 6, foot-tradeLine
		}
	}
	if t := trade.This; t != nil {
		markThis(c, f, trade, at)
	}
	if trade.Knee >= 0 {
		knee := trade.Points[trade.Knee]
		x, y := at(knee.Use, knee.Total)
		c.line(hair(), x, y+4, x+10, y+20)
		c.over(normal, x+8, y+22, "knee: "+words.Within(knee.Use))
	}
}

func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// markThis marks the plan that was chosen, and its aim.
func markThis(c *sheet, f frame, trade *view.Trade, at func(use, total float64) (x, y vg.Length)) {
	t := trade.This
	if t.Aim < 1 && 100*t.Aim > f.x.from {
		x := f.x.at(100 * t.Aim)
		c.line(aim(), x, f.y.start, x, f.y.end)
		c.over(normal, x+4, f.y.end-9, "aim "+words.Percent(t.Aim))
	}
	if 100*t.Use < f.x.from || 100*t.Use > f.x.to {
		return
	}
	x, y := at(t.Use, t.Total)
	c.box(pen(1.1), x-4.5, y-4.5, x+4.5, y+4.5)
	n := words.Numbers{Units: trade.Units, MoveDecimals: t.Decimals}
	said := fmt.Sprintf("this plan: %s, %s", words.Percent(t.Use), words.With(n.Total(t.Total), moveUnit(trade.Units)))
	// The curve falls to the right, so that there is room lower to the left.
	left := max(f.x.start+4, x-8-wide(normal, said))
	c.line(hair(), x-4, y-5, x-9, y-14)
	c.over(normal, left, y-23, said)
}

// tradeDesc says the points in words.
func tradeDesc(trade *view.Trade) string {
	var out []string
	unit := trade.Units.Move()
	for _, p := range trade.Points {
		if known(p.Total) {
			out = append(out, fmt.Sprintf("%s: %s", words.Within(p.Use), axisNumber(math.Round(p.Total/unit*1000)/1000, 0)))
		}
	}
	return "Least total movement in " + moveUnit(trade.Units) + " where the worst share of limit is at most so much. " +
		strings.Join(out, "; ") + "."
}
