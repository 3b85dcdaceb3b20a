package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Signs draws which way is which: the frame and the sides, clock positions and the sign of a dial, and
// where a coupling's gap is wider. Three panels side by side; one below the other for a narrow screen.
func Signs(f *view.Figures) []Drawing {
	s := signs{names: namesOf(f), left: "left", right: "right"}
	if sides := f.Train.Sides; s.OwnSides() {
		s.left, s.right = "left: "+words.Clean(sides.Left), "right: "+words.Clean(sides.Right)
	}
	d := Drawing{Title: "Which way: sides, clock positions and signs, gap", Desc: s.desc(), Width: usualWidth,
		Height: titleRoom + signsHigh}
	wide := d.Width / 3
	d.draw = s.panels(d.Title, wide, 0)
	below := d
	below.Width, below.Height = narrowWidth, titleRoom+3*signsHigh
	below.draw = s.panels(d.Title, 0, signsHigh)
	d.narrow = &below
	return []Drawing{d}
}

type signs struct {
	names
	left, right string // what the sides are called
}

// Sizes in points.
const (
	signsHigh  = 148
	signsWide  = 158 // of what a panel shows
	signsFirst = 4   // from the edge
)

// panels draws the three, each so far from the one before.
func (s signs) panels(title string, right, down vg.Length) func(c *sheet) {
	return func(c *sheet) {
		c.title(title)
		x, y := c.Min.X+signsFirst, c.Max.Y-titleRoom
		for _, panel := range []func(c *sheet, x, y vg.Length){s.sides, s.clock, s.gap} {
			panel(c, x, y)
			x, y = x+right, y-down
		}
	}
}

// sides is the train from above: what is left and what is right, and the signs of x, y and z.
func (s signs) sides(c *sheet, x, y vg.Length) {
	c.text(small, 0, -1, x, y, "From above")
	const half, long = 13, 34
	middle := y - 72
	for n := range 3 {
		from := x + 16 + vg.Length(n)*(long+12)
		c.box(outline(), from, middle-half, from+long, middle+half)
		for _, foot := range []vg.Length{from + 3, from + long - 9} {
			for _, side := range []vg.Length{middle - half - 3, middle + half - 3} {
				c.fill(grey(), foot, side, foot+6, side+6)
			}
		}
	}
	c.line(datum(), x+4, middle, x+signsWide-4, middle)
	c.text(small, 0, 0, x+16, middle+26, s.left+", y +")
	c.text(small, 0, -1, x+16, middle-26, s.right+", y −")
	c.arrow(after(), x+8, middle+6, x+8, middle+36)
	c.arrow(after(), x+4, y-126, x+signsWide-8, y-126)
	c.text(small, 0, 0, x+4, y-122, "x +, stations; look this way")
	c.text(small, 0, -1, x+4, y-131, "first machine")
	c.text(small, -1, -1, x+signsWide-8, y-131, "last machine")
	c.text(small, -1, -1, x+signsWide-8, y, "z + up, toward you")
}

// clock has the positions of a dial as seen along the train, and which way it counts.
func (s signs) clock(c *sheet, x, y vg.Length) {
	c.text(small, 0, -1, x, y, "Along the train, from first to last")
	const radius = 27
	cx, cy := x+signsWide/2, y-62
	c.circle(after(), cx, cy, radius)
	c.line(hair(), cx-6, cy, cx+6, cy)
	c.line(hair(), cx, cy-6, cx, cy+6)
	for _, at := range []struct {
		words  string
		dx, dy vg.Length
		across float64
		up     float64
	}{
		{"12", -10, radius + 6, -0.5, 0}, {"3", radius + 5, 0, 0, -0.35}, {"6", 0, -radius - 4, -0.5, -1},
		{"9", -radius - 5, 0, -1, -0.35},
	} {
		c.text(normal, at.across, at.up, cx+at.dx, cy+at.dy, at.words)
	}
	c.arrow(after(), cx, cy+radius+18, cx, cy+radius+1)
	c.text(small, 0, -0.35, cx+5, cy+radius+12, "plunger pushed in: +")
	side := func(across float64, at vg.Length, name string) {
		c.lines(small, across, -1, at, cy-8, 8, folded(small, name, 40, 2))
	}
	side(-1, cx-radius-4, s.left)
	side(0, cx+radius+4, s.right)
	s.lines(c, x, y, "Zeroed at 12, the to shaft high by h:",
		"a rim, on = to, reads −2 h at 6,", "a rim, on = from, reads +2 h")
}

// gap is a coupling from the side, whose second shaft slopes up: the gap is wider at the bottom.
func (s signs) gap(c *sheet, x, y vg.Length) {
	c.text(small, 0, -1, x, y, "From the side: the to shaft slopes up")
	middle := y - 62
	const half, hub, meet = 24, 12, 72 // meet: where the from hub ends
	shaft := func(at, long, to vg.Length) { c.line(after(), at, middle, at+long, middle+to) }
	shaft(x+6, meet-hub-6, 0)
	c.box(outline(), x+meet-hub, middle-half, x+meet, middle+half)
	// The to hub turned by a slope that can be seen: its face leans toward the from hub at the top.
	const slope, apart = 0.18, 12
	corner := func(along, up vg.Length) vg.Point {
		return vg.Point{X: x + meet + apart + along - slope*up, Y: middle + slope*along + up}
	}
	hubAt := []vg.Point{corner(0, -half), corner(hub, -half), corner(hub, half), corner(0, half)}
	for n, p := range hubAt {
		q := hubAt[(n+1)%4]
		c.line(outline(), p.X, p.Y, q.X, q.Y)
	}
	start := corner(hub, 0)
	c.line(after(), start.X, start.Y, x+signsWide-10, start.Y+slope*(x+signsWide-10-start.X))
	c.line(datum(), x+meet, middle, x+signsWide-6, middle)
	c.text(small, -0.5, 0, x+30, middle+5, "from")
	c.text(small, -0.5, 0, x+126, middle+20, "to")
	measure := func(up vg.Length, words string) {
		to := corner(0, up).X
		at := middle + up
		c.line(hair(), x+meet, at, to, at)
		rise := vg.Length(11)
		if up < 0 {
			rise = -rise
		}
		c.text(small, -0.5, -0.35, (x+meet+to)/2, at+rise, words)
	}
	measure(half, "narrower at the top")
	measure(-half, "wider at the bottom")
	s.lines(c, x, y, "offset: + high, + left of from, extended", "angle: + slopes up, + points left, as x grows",
		"points left: the gap is wider at the right")
}

// lines are the words under a panel.
func (s signs) lines(c *sheet, x, y vg.Length, words ...string) {
	c.lines(small, 0, -1, x+4, y-112, 10, words)
}

// desc says the same in words.
func (s signs) desc() string {
	return fmt.Sprintf("x runs along the train from the first machine to the last, y to the left (%s), z up. Clock "+
		"positions are seen looking from the first machine to the last: 12 is up, 3 is right (%s), 9 is left. A dial counts "+
		"+ as its plunger is pushed in. Where the to shaft slopes up, the gap of its coupling is wider at the bottom; where "+
		"it points left, wider at the right.", s.left, s.right)
}
