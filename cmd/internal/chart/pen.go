package chart

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A style is how a line is drawn.
type style = draw.LineStyle

// The lines of a drawing. What is what is told by them alone: all are black.

// before is how things were found.
func before() style { return pen(0.7, 4, 2.5) }

// after is how they are after the moves.
func after() style { return pen(1.7) }

// limit is where something ends, aim where it is to end at most.
func limit() style { return pen(0.9) }
func aim() style   { return pen(0.9, 3, 2) }

// datum is a line that distances are from: a chain line, as for any centreline.
func datum() style { return pen(0.4, 9, 2, 2, 2) }

// outline is the edge of a thing, hair what only helps the eye.
func outline() style { return pen(0.5) }
func hair() style    { return pen(0.3) }

func pen(width vg.Length, dashes ...vg.Length) style {
	return style{Color: color.Black, Width: width, Dashes: dashes}
}

// A sheet is what is drawn on.
type sheet struct {
	draw.Canvas
	untitled bool
}

// title says at the top what is drawn.
func (c *sheet) title(words string) {
	if !c.untitled {
		c.text(large, 0, -1, c.Min.X+4, c.Max.Y-2, short(large, words, usualWidth-8))
	}
}

// Sizes of letters in points.
const (
	small  = 7
	normal = 8
	large  = 9.5
)

// letters are those of a size, set about a point: across and up are 0 where text
// begins there, -0.5 where the point is its middle, -1 where it ends there.
func letters(size, across, up float64) draw.TextStyle {
	return draw.TextStyle{
		Color:   color.Black,
		Font:    font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, vg.Length(size)),
		XAlign:  draw.XAlignment(across),
		YAlign:  draw.YAlignment(up),
		Handler: plot.DefaultTextHandler,
	}
}

func (c *sheet) text(size, across, up float64, x, y vg.Length, words string) {
	if words != "" {
		c.FillText(letters(size, across, up), vg.Point{X: x, Y: y}, words)
	}
}

// lines are words one line under another, the first at y, with so much from each to the next.
func (c *sheet) lines(size, across, up float64, x, y, step vg.Length, words []string) {
	for n, line := range words {
		c.text(size, across, up, x, y-step*vg.Length(n), line)
	}
}

// notes are lines at the left below a figure, the last one so much above its lower edge.
func (c *sheet) notes(size float64, x, above, step vg.Length, words []string) {
	c.lines(size, 0, 0, x, c.Min.Y+above+step*vg.Length(len(words)-1), step, words)
}

// over is text from a point on with what is under it blanked out.
func (c *sheet) over(size float64, x, y vg.Length, words string) {
	c.FillPolygon(color.White, []vg.Point{{X: x - 1, Y: y - 2}, {X: x + wide(size, words) + 1, Y: y - 2},
		{X: x + wide(size, words) + 1, Y: y + vg.Length(size)}, {X: x - 1, Y: y + vg.Length(size)}})
	c.text(size, 0, 0, x, y, words)
}

// wide is how wide words are.
func wide(size float64, words string) vg.Length { return letters(size, 0, 0).Width(words) }

// short is words cut to a width, with dots for what is missing. Names are whole
// in the tables of a report.
func short(size float64, words string, most vg.Length) string {
	if wide(size, words) <= most {
		return words
	}
	runes := []rune(words)
	low, high := 0, len(runes)
	for high-low > 1 {
		mid := (low + high) / 2
		if wide(size, string(runes[:mid])+"…") <= most {
			low = mid
		} else {
			high = mid
		}
	}
	return string(runes[:low]) + "…"
}

func ink() color.Color   { return color.Black }
func paper() color.Color { return color.White }

// grey fills what is not to be touched.
func grey() color.Color { return color.Gray{Y: 0xb8} }

// fill is a filled box.
func (c *sheet) fill(with color.Color, x0, y0, x1, y1 vg.Length) {
	c.FillPolygon(with, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
}

// hatched fills a box with slanted lines.
func (c *sheet) hatched(x0, y0, x1, y1 vg.Length) {
	const apart = 6
	high := y1 - y0
	for x := x0 - high + apart; x < x1; x += apart {
		// The line slopes up at 45 degrees from (x, y0) and is cut at the sides.
		a, b := max(x, x0), min(x+high, x1)
		c.line(hair(), a, y0+a-x, b, y0+b-x)
	}
}

// folded are words in at most so many lines of a width, the last one cut.
func folded(size float64, words string, most vg.Length, lines int) []string {
	var out []string
	for line := ""; ; {
		next, rest, more := strings.Cut(words, " ")
		joined := strings.TrimSpace(line + " " + next)
		if line != "" && wide(size, joined) > most && len(out) < lines-1 {
			out, line = append(out, line), ""
			continue
		}
		if line, words = joined, rest; !more {
			return append(out, short(size, line, most))
		}
	}
}

func (c *sheet) line(style style, x0, y0, x1, y1 vg.Length) {
	c.StrokeLine2(style, x0, y0, x1, y1)
}

func (c *sheet) box(style style, x0, y0, x1, y1 vg.Length) {
	c.SetLineStyle(style)
	var p vg.Path
	p.Move(vg.Point{X: x0, Y: y0})
	p.Line(vg.Point{X: x1, Y: y0})
	p.Line(vg.Point{X: x1, Y: y1})
	p.Line(vg.Point{X: x0, Y: y1})
	p.Close()
	c.Stroke(p)
}

func (c *sheet) circle(style style, x, y, radius vg.Length) {
	c.SetLineStyle(style)
	c.Stroke(round(x, y, radius))
}

func (c *sheet) disc(x, y, radius vg.Length) {
	c.SetColor(color.Black)
	c.Fill(round(x, y, radius))
}

func round(x, y, radius vg.Length) vg.Path {
	var p vg.Path
	p.Move(vg.Point{X: x + radius, Y: y})
	p.Arc(vg.Point{X: x, Y: y}, radius, 0, 2*math.Pi)
	p.Close()
	return p
}

// arrow is a line with a filled head at its end.
func (c *sheet) arrow(style style, x0, y0, x1, y1 vg.Length) {
	const long = 5 // points
	dx, dy := float64(x1-x0), float64(y1-y0)
	c.line(style, x0, y0, x1, y1)
	c.head(x1, y1, math.Atan2(dy, dx), math.Min(long, math.Hypot(dx, dy)))
}

// head is the point of an arrow of so many points that goes toward a direction in
// radians.
func (c *sheet) head(x, y vg.Length, toward, long float64) {
	const half = 0.38 // radians
	c.SetColor(color.Black)
	var p vg.Path
	p.Move(vg.Point{X: x, Y: y})
	for _, side := range []float64{half, -half} {
		sin, cos := math.Sincos(toward + math.Pi + side)
		p.Line(vg.Point{X: x + vg.Length(long*cos), Y: y + vg.Length(long*sin)})
	}
	p.Close()
	c.Fill(p)
}

// handy is the largest of 1, 2 and 5 times a power of ten that is at most x.
func handy(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range []float64{5, 2} {
		if n*power <= x*(1+1e-9) {
			return n * power
		}
	}
	return power
}

// rows keep labels from lying on one another: each takes the first lines that have
// room for it.
type rows struct{ ends []vg.Length }

// place is the first line, from 0, for a label from x0 to x1 of so many lines.
func (r *rows) place(x0, x1 vg.Length, lines int) int {
	const apart = 4
	first := 0
	for n := 0; n < first+lines; n++ {
		if n == len(r.ends) {
			r.ends = append(r.ends, -apart)
		}
		if x0 < r.ends[n]+apart {
			first = n + 1
		}
	}
	for n := range lines {
		r.ends[first+n] = x1
	}
	return first
}
