package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
)

// moved is the total against how many machines are moved at most.
func moved(trade *view.Trade, subsets *view.Subsets) Drawing {
	d := Drawing{Title: "Total movement against the machines moved", Width: usualWidth, Height: tradeHeight + tradeLine,
		Desc: "Least total movement where at most so many machines are moved, and what is proven."}
	d.draw = func(c *sheet) {
		c.title(d.Title)
		unit, most := trade.Units.Move(), 0.0
		for _, p := range subsets.Curve {
			for _, v := range []float64{p.Total, p.Bound} {
				if known(v) {
					most = math.Max(most, v/unit)
				}
			}
		}
		graph := *c
		graph.Min.Y += tradeLine
		f := framed(&graph, [2]float64{0, float64(max(1, len(subsets.Curve)-1)) + 0.2}, 1.25*math.Max(most, 1e-9),
			"machines moved, at most", totalName(trade))
		var before *[2]vg.Length
		for _, p := range subsets.Curve {
			x := f.x.at(float64(p.Moved))
			if known(p.Bound) {
				y := f.y.at(p.Bound / unit)
				c.line(pen(1), x-7, y, x+7, y)
			}
			if !known(p.Total) {
				continue
			}
			y := f.y.at(p.Total / unit)
			c.disc(x, y, 2.3)
			if before != nil {
				c.line(pen(1.1), before[0], before[1], x, y)
			}
			before = &[2]vg.Length{x, y}
		}
		x, y := vg.Length(6), graph.Min.Y-tradeLine/2
		c.disc(x+7, y, 2.3)
		c.text(normal, 0, -0.35, x+20, y, "plan, whole steps")
		x += 20 + wide(normal, "plan, whole steps") + 14
		c.line(pen(1), x, y, x+14, y)
		c.text(normal, 0, -0.35, x+20, y, "no plan is below (proven)")
	}
	return d
}
