package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
)

// Moves draws what is to be done at the feet: shims in elevation, moves to the
// sides in plan. A long train goes over several drawings.
func Moves(f *view.Figures) []Drawing {
	var out []Drawing
	for _, s := range strips(f, 24) {
		m := &moves{strip: s}
		m.measure()
		title := "What to move" + s.name()
		out = append(out, Drawing{Title: title, Width: usualWidth, Height: m.height(),
			draw: func(c *sheet) { m.draw(c, title) }})
	}
	return out
}

type moves struct {
	strip
	named int
	lines [2]int // of labels, in elevation and in plan
}

// A push is what is done at one station of a machine.
type push struct {
	x     float64   // mm, train station
	by    []float64 // mm, up or left; two where left and right feet differ
	words []string  // a line for each, none where nothing is done
}

// pushes are the moves of a machine, station by station.
func (m *moves) pushes(i int, up bool) []push {
	all := m.Pushes[i].Left
	if up {
		all = m.Pushes[i].Up
	}
	out := make([]push, len(all))
	for n, p := range all {
		out[n].x = p.X
		for _, f := range p.Feet {
			words := m.words.aside(f.By)
			if up {
				words = m.words.shims(f.Change)
			}
			if f.Named && words != "" {
				side := "right foot: "
				if f.OnLeft {
					side = "left foot: "
				}
				words = side + words
			}
			out[n].by = append(out[n].by, f.By)
			if words != "" {
				out[n].words = append(out[n].words, words)
			}
		}
	}
	return out
}

// Room in points: for an arrow each way, half the height of a machine, a line of
// labels.
const (
	reach   = 26
	half    = 13
	perLine = 10
)

// measure counts the lines of names and labels.
func (m *moves) measure() {
	m.named = m.names(nil, 0)
	for k, up := range []bool{true, false} {
		var r rows
		for i := m.from; i < m.to; i++ {
			for _, p := range m.pushes(i, up) {
				if first, _ := m.lay(&r, p); len(p.words) > 0 {
					m.lines[k] = max(m.lines[k], first+len(p.words))
				}
			}
		}
	}
}

// lay finds the place of the words at a station: the first line, and where they
// begin.
func (m *moves) lay(r *rows, p push) (first int, left vg.Length) {
	if len(p.words) == 0 {
		return 0, 0
	}
	most := ""
	for _, w := range p.words {
		if wide(normal, w) > wide(normal, most) {
			most = w
		}
	}
	return m.label(r, normal, p.x, most, len(p.words))
}

func (m *moves) height() vg.Length {
	return titleRoom + nameRoom*vg.Length(m.named) + 2*(2*half+2*reach) + vg.Length(m.lines[0]+m.lines[1])*perLine + 40
}

func (m *moves) draw(c *sheet, title string) {
	c.title(title)
	y := c.Max.Y - titleRoom - nameRoom*vg.Length(m.named)
	m.names(c, y+4)
	// Most of any move is as long as an arrow may be.
	most := 0.0
	for i := m.from; i < m.to; i++ {
		for _, f := range m.Moves[i] {
			most = math.Max(most, math.Max(math.Abs(f.Up), math.Abs(f.Left)))
		}
	}
	unit := m.Train.Units.Move()
	scale := 0.0 // points for each mm
	if most > 0 {
		scale = reach / most
	}
	y -= half
	base := y - half - reach - 8
	m.bodies(c, y)
	c.line(outline(), 4, y-half-8, usualWidth-4, y-half-8)
	m.arrows(c, true, y-half-8, base-12, scale)
	c.text(small, 0, 0, 4, base-14-vg.Length(m.lines[0])*perLine-2, "Shims, up and down: seen from the right side.")
	y = base - 14 - vg.Length(m.lines[0])*perLine - 14 - half - reach + 10
	m.bodies(c, y)
	m.arrows(c, false, y, y-half-reach-2, scale)
	y -= half + reach + 2 + vg.Length(m.lines[1])*perLine + 4
	c.text(small, 0, 0, 4, y, "Sideways: seen from above, left up"+m.ownSides()+".")
	y = c.Min.Y + 8
	x := m.stationBar(c, 6, y) + 22
	if most > 0 {
		long := handy(0.8*most/unit) * unit
		h := vg.Length(long * scale)
		c.line(outline(), x, y, x+h, y)
		c.line(outline(), x, y-3, x, y+3)
		c.line(outline(), x+h, y-3, x+h, y+3)
		c.text(small, 0, -0.35, x+h+4, y, "moves: "+m.words.inMoves(long))
	}
}

func (m *moves) ownSides() string {
	if left := m.words.left(); left != "left" {
		return " (" + short(small, left, 120) + ")"
	}
	return ""
}

// bodies are the machines of the strip about a height, and the shafts' line.
func (m *moves) bodies(c *sheet, y vg.Length) {
	c.line(datum(), m.edge[0]-10, y, m.edge[1]+10, y)
	for i := m.from; i < m.to; i++ {
		x := m.body(i)
		c.box(outline(), m.at(x[0]), y-half, m.at(x[1]), y+half)
	}
}

// arrows are the moves of the strip from a height on, their words beneath.
func (m *moves) arrows(c *sheet, up bool, y, words vg.Length, scale float64) {
	var r rows
	type said struct {
		left, at vg.Length
		words    string
	}
	var all []said
	for i := m.from; i < m.to; i++ {
		for _, p := range m.pushes(i, up) {
			x := m.at(p.x)
			first, left := m.lay(&r, p)
			lowest := y
			for n, by := range p.by {
				x := x + 5*(vg.Length(n)-vg.Length(len(p.by)-1)/2)
				if by == 0 {
					c.line(outline(), x-3, y, x+3, y)
					continue
				}
				c.arrow(after(), x, y, x, y+vg.Length(by*scale))
				lowest = min(lowest, y+vg.Length(by*scale))
			}
			for n, w := range p.words {
				at := words - vg.Length(first+n)*perLine - 4
				if n == 0 {
					c.line(hair(), x, lowest-1, x, at+8)
				}
				all = append(all, said{left, at, w})
			}
		}
	}
	for _, s := range all {
		c.over(normal, s.left, s.at, s.words)
	}
}
