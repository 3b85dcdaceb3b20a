package chart

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
)

// Holes draws the room that feet have left in their bolt holes and travel: one bar a foot, from
// where the foot is after the moves to how far it could still go to each side, all to one scale,
// the least share of its room first. Feet of a pair with the same room share a bar. Many go over several drawings; nil:
// no foot has a hole.
func Holes(f *view.Figures) []Drawing {
	h := &holes{Figures: f, words: namesOf(f)}
	h.rows = h.rowsOf()
	for _, r := range h.rows {
		h.most = math.Max(h.most, math.Max(r.ToLeft, math.Max(r.ToRight, math.Abs(r.from()))))
	}
	const most, few = 48, 16 // bars that fit on a sheet of paper under a heading, and on a third of one
	return paged("Room left at the bolts ("+h.words.MoveUnit()+"), least share of its room first", h.rows, most, few,
		func(rows []holeRow, legend bool) rowDrawing {
			part := *h
			part.rows, part.layout, part.goesOn = rows, h.onPaper(), !legend
			return &part
		}, func(rows []holeRow) rowDrawing {
			part := *h
			part.rows, part.layout = rows, onPhone()
			return &part
		})
}

// A holeRow is a foot, or a pair of feet with the same room.
type holeRow struct {
	view.Hole
	feet []int
}

// from is where the foot was before the moves, in mm to the left of where it is after.
func (r holeRow) from() float64 {
	if math.IsNaN(r.After[1]) {
		return 0
	}
	return r.After[1] - r.Before[1] // the bolt stays: the foot went left by as much as the bolt went right
}

type holes struct {
	*view.Figures
	words names
	rows  []holeRow
	most  float64 // mm, longest bar to a side
	layout
	goesOn bool // in a part below that has the legend
}

// A layout says in points where the rows of the figure have what. On a narrow screen a row's words stand above its bar.
type layout struct {
	high, middle, reach vg.Length // of a row; where bars begin; of the longest bar
	footAt              vg.Length // where the names of feet begin
	note                vg.Length // where what is said of a row begins; 0: at the right
	lines               int       // of the legend
}

func onPhone() layout { return layout{high: 24, middle: 120, reach: 84, lines: 6} }

// onPaper has names as wide as they are, and bars in what is left.
func (h *holes) onPaper() layout {
	const most, number, note = 150, 30, 70 // of a name, of the number at the end of a bar, of a note
	machine, foot := vg.Length(0), vg.Length(0)
	for _, r := range h.rows {
		machine = max(machine, wide(normal, h.words.Machine(r.Machine)))
		foot = max(foot, wide(normal, h.foot(r)))
	}
	out := layout{high: 12, footAt: 6 + min(machine, most) + 12, note: usualWidth - note, lines: 2}
	bars := out.footAt + min(foot, most) + number
	out.reach = min((out.note-number-bars)/2, 100)
	out.middle = bars + out.reach
	return out
}

// foot is the name of the foot of a row, or of its pair.
func (h *holes) foot(r holeRow) string {
	if len(r.feet) == 2 {
		table, _ := h.words.Pair(r.Machine, r.feet[0], r.feet[1])
		return table + ", both"
	}
	return h.words.Foot(r.Machine, r.Foot)
}

// rowsOf are the feet, the least share of its room first.
func (h *holes) rowsOf() []holeRow {
	var out []holeRow
	for _, one := range h.Holes {
		last := len(out) - 1
		if last >= 0 && out[last].Machine == one.Machine && len(out[last].feet) == 1 {
			_, pair := h.words.Pair(one.Machine, out[last].Foot, one.Foot)
			if pair && h.same(out[last].ToLeft, one.ToLeft) && h.same(out[last].ToRight, one.ToRight) &&
				out[last].Near == one.Near && h.alongSaid(out[last].Hole) == h.alongSaid(one) {
				out[last].feet = append(out[last].feet, one.Foot)
				continue
			}
		}
		out = append(out, holeRow{one, []int{one.Foot}})
	}
	slices.SortStableFunc(out, func(a, b holeRow) int { return cmp.Compare(a.Share, b.Share) })
	return out
}

func (h *holes) same(a, b float64) bool { return h.words.toGo(a) == h.words.toGo(b) }

// alongSaid is the room along the train where that is the least; "" where it is not.
func (h *holes) alongSaid(one view.Hole) string {
	if !one.AlongNearest() {
		return ""
	}
	return "along " + string(h.words.Left(one.Along))
}

// Sizes in points.
const (
	holeHead   = 14
	holeLegend = 12 // of a line
)

func (h *holes) height() vg.Length {
	rows := titleRoom + holeHead + h.high*vg.Length(len(h.rows))
	if h.goesOn {
		return rows
	}
	return rows + holeLegend*vg.Length(h.lines) + 10
}

func (h *holes) draw(c *sheet, title string) {
	c.title(title)
	top := c.Max.Y - titleRoom - holeHead
	c.text(small, -1, 0, h.middle-6, top+4, "room to the left")
	c.text(small, 0, 0, h.middle+6, top+4, "to the right")
	foot := top - h.high*vg.Length(len(h.rows))
	c.line(outline(), h.middle, foot, h.middle, top)
	for n, r := range h.rows {
		h.row(c, r, top-h.high*vg.Length(n+1)+6)
	}
	if !h.goesOn {
		h.legend(c, foot-12)
	}
}

func (h *holes) scale() float64 { return float64(h.reach) / math.Max(h.most, 1e-9) }

func (h *holes) row(c *sheet, r holeRow, y vg.Length) {
	name := h.foot(r)
	note := h.alongSaid(r.Hole)
	if r.Near {
		note = strings.TrimSuffix("under 10 %, "+note, ", ")
	}
	if h.note > 0 {
		c.text(normal, 0, -0.35, 6, y, short(normal, h.words.Machine(r.Machine), h.footAt-14))
		c.text(normal, 0, -0.35, h.footAt, y, short(normal, name, h.middle-h.reach-30-h.footAt))
		c.text(small, 0, -0.35, h.note, y, note)
	} else {
		c.fill(paper(), 4, y+6, phoneWidth-4, y+17) // the middle line does not run through words
		said := short(normal, h.words.Machine(r.Machine)+", "+name, phoneWidth-16-wide(small, note))
		c.text(normal, 0, -0.35, 6, y+12, said)
		c.text(small, -1, -0.35, phoneWidth-4, y+12, note)
	}
	left, right := h.middle-h.bar(r.ToLeft), h.middle+h.bar(r.ToRight)
	shade := grey()
	if r.Near {
		shade = ink()
	}
	c.fill(shade, left, y-3, right, y+3)
	c.box(outline(), left, y-3, right, y+3)
	if h.Planned && math.Abs(r.from()) > 0 {
		x := h.middle - vg.Length(r.from()*h.scale())
		c.line(before(), x, y-5, x, y+5)
	}
	c.text(small, -1, -0.35, left-3, y, h.words.toGo(r.ToLeft))
	c.text(small, 0, -0.35, right+3, y, h.words.toGo(r.ToRight))
}

func (h *holes) bar(room float64) vg.Length { return vg.Length(math.Max(0, room) * h.scale()) }

func (h *holes) legend(c *sheet, y vg.Length) {
	x := vg.Length(6)
	fits := func(room vg.Length, words string) {
		if h.note == 0 && x > 6 && x+room+wide(small, words) > phoneWidth {
			x, y = 6, y-holeLegend
		}
	}
	say := func(room vg.Length, words string) {
		c.text(small, 0, -0.35, x+room, y, words)
		x += room + wide(small, words) + 12
	}
	where := "middle line: the foot as found"
	if h.Planned {
		where = "middle line: the foot after the moves"
		c.line(before(), x+3, y-5, x+3, y+5)
		say(8, "before")
	}
	fits(0, where)
	say(0, where)
	near := "under 10 % of its room left"
	fits(18, near)
	c.fill(ink(), x, y-3, x+14, y+3)
	say(18, near)
	unit := h.words.Units.Move()
	long := handy(math.Max(h.most, 1e-3)/2/unit) * unit
	w := vg.Length(long * h.scale())
	of := "room: " + h.words.inMoves(long)
	fits(w+4, of)
	c.line(outline(), x, y, x+w, y)
	c.line(outline(), x, y-3, x, y+3)
	c.line(outline(), x+w, y-3, x+w, y+3)
	say(w+4, of)
	lines := []string{"The nearer of bolt hole and stated travel counts; along:",
		"the bolt is nearer to the hole's edge along the train", "than to either side."}
	if h.note > 0 {
		lines = []string{strings.Join(lines, " ")}
	}
	for _, words := range lines {
		y -= holeLegend
		c.text(small, 0, -0.35, 6, y, words)
	}
}

// desc says the rows in words.
func (h *holes) desc() string {
	var out []string
	for _, r := range h.rows {
		out = append(out, strings.TrimSuffix(fmt.Sprintf("%s, %s: left %s, right %s, %s", h.words.Machine(r.Machine),
			h.words.FeetOf(r.Machine, r.feet), h.words.toGo(r.ToLeft), h.words.toGo(r.ToRight), h.alongSaid(r.Hole)), ", "))
	}
	return "Room left in " + h.words.MoveUnit() + ". " + strings.Join(out, "; ") + "."
}
