package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
)

// Holes draws the bolt hole of every foot that has one stated and may be moved,
// from above, the bolt in it before and after, and what is left to the sides. The bolt
// stays and the hole goes with the foot: in a hole drawn where it was the bolt goes the
// other way, which the figure says. The
// room between bolt and hole is much exaggerated: the bolt is drawn small. Many go
// over several drawings; nil: no foot has a hole.
func Holes(f *view.Figures) []Drawing {
	names := namesOf(f)
	var panels []panel
	for n := range f.Holes {
		panels = append(panels, hole{&f.Holes[n], names, f.Planned}.draw)
	}
	out := tables("Bolts in their holes, seen from above: left is up, the last machine is to the right", panels, 5,
		holeHigh, func(c *sheet, y vg.Length) {
			holeLegend(c, y+5, f.Planned)
			c.text(small, 0, -0.35, 6, y-5, boltStays)
		})
	for n := range out {
		out[n].Title += ". " + boltStays
	}
	return out
}

// boltStays is what a reader may not expect of the figure.
const boltStays = "The bolt stays and the hole goes with its foot: a machine that goes left has its bolt further " +
	"right in the hole."

// A hole is that of one foot.
type hole struct {
	*view.Hole
	names   names
	planned bool
}

// Sizes in points: of the hole and of the bolt as drawn, of all of a panel.
const (
	holeRadius = 30
	boltRadius = 9
	holeHigh   = 122
)

func (h hole) draw(c *sheet, x, y vg.Length) {
	const room = 92
	c.text(normal, 0, -1, x+4, y, short(normal, h.names.Machine(h.Machine), room))
	c.text(small, 0, -1, x+4, y-10, short(small, h.names.Foot(h.Machine, h.Foot), room))
	mx, my := x+4+holeRadius, y-24-holeRadius
	c.circle(limit(), mx, my, holeRadius)
	scale := (holeRadius - boltRadius) / h.Play // points for each mm
	at := func(axial, left float64) (vg.Length, vg.Length) {
		return mx + vg.Length(axial*scale), my + vg.Length(left*scale)
	}
	bx, by := at(h.Before[0], h.Before[1])
	c.circle(before(), bx, by, boltRadius)
	h.travel(c, mx, my, scale)
	if h.planned {
		ax, ay := at(h.After[0], h.After[1])
		c.circle(after(), ax, ay, boltRadius)
		c.disc(ax, ay, 1.2)
	}
	unit := h.names.Units.Move()
	long := handy(h.Play/unit) * unit
	w := vg.Length(long * scale)
	bar := my - holeRadius - 7
	c.line(outline(), mx-holeRadius, bar, mx-holeRadius+w, bar)
	c.line(outline(), mx-holeRadius, bar-2, mx-holeRadius, bar+2)
	c.line(outline(), mx-holeRadius+w, bar-2, mx-holeRadius+w, bar+2)
	c.text(small, 0, -0.35, mx-holeRadius+w+3, bar, h.names.inMoves(long))
	c.text(small, 0, -1, x+4, bar-6, "to go: left "+h.names.toGo(h.ToLeft))
	c.text(small, 0, -1, x+4, bar-15, "right "+h.names.toGo(h.ToRight)+" "+h.names.MoveUnit())
}

// travel is where the travel to a side ends, where the file limits it: the bolt
// touches the line there.
func (h hole) travel(c *sheet, mx, my vg.Length, scale float64) {
	for _, end := range h.Ends {
		y := vg.Length(end*scale) + boltRadius
		if end < h.Before[1] {
			y -= 2 * boltRadius
		}
		if math.IsInf(end, 0) || math.Abs(float64(y)) >= holeRadius {
			continue
		}
		across := vg.Length(math.Sqrt(holeRadius*holeRadius - float64(y*y)))
		c.line(limit(), mx-across, my+y, mx+across, my+y)
	}
}

func holeLegend(c *sheet, y vg.Length, planned bool) {
	x := vg.Length(6)
	say := func(style style, words string) {
		c.line(style, x, y, x+22, y)
		c.text(small, 0, -0.35, x+26, y, words)
		x += 26 + wide(small, words) + 12
	}
	if !planned {
		say(before(), "bolt as found")
	} else {
		say(before(), "bolt before")
		say(after(), "bolt after")
	}
	say(limit(), "edge of the hole, end of travel")
	c.text(small, 0, -0.35, x, y, "Each to its own scale; bolts drawn small.")
}
