package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// Couplings draws what every coupling takes up of each of its limits, in every
// condition, before and after the moves: a panel for each limit, up and to the left as
// looking along the train, the limit as a circle. Many go over several drawings.
func Couplings(f *view.Figures) []Drawing {
	names := namesOf(f)
	var panels []panel
	for n := range f.Limits {
		panels = append(panels, target{names, &f.Limits[n], f.Aim}.draw)
	}
	var marks []mark
	for _, time := range f.Times {
		marks = append(marks, markOf(time))
	}
	return targets(panels, marks)
}

// targets sets panels with such marks side by side.
func targets(panels []panel, marks []mark) []Drawing {
	return tables("Couplings against their limits: high is up, left is to the left, looking along the train", panels, 4,
		targetHigh, func(c *sheet, y vg.Length) {
			targetLegend(c, y, marks)
		})
}

// A target is one limit of a coupling in one condition.
type target struct {
	names names
	limit *view.LimitOverTime
	aim   float64 // share of the limit that the plan may use
}

// A mark is how the state at one time is shown and called.
type mark struct {
	spot  spot
	words string
}

func markOf(t view.Time) mark {
	return [...]mark{
		view.AsFound: {open, "as found"}, view.Before: {open, "before"},
		view.AsPlanned: {cross, "planned"}, view.After: {full, "after"},
	}[t]
}

// A spot stands where a misalignment is.
type spot int

const (
	open  spot = iota // a circle
	cross             // of two strokes
	full              // a disc
)

// draw draws it about a point.
func (m spot) draw(c *sheet, x, y vg.Length) {
	switch m {
	case open:
		c.circle(outline(), x, y, dot)
	case cross:
		c.line(crossed(), x-dot, y-dot, x+dot, y+dot)
		c.line(crossed(), x-dot, y+dot, x+dot, y-dot)
	case full:
		c.disc(x, y, dot)
	}
}

// line is how what has the spot is drawn where it is a line.
func (m spot) line() style {
	return [...]style{open: before(), cross: crossed(), full: after()}[m]
}

// Sizes in points: of the square, of the limit in it, of all of a panel.
const (
	targetHalf  = 41
	targetLimit = 25
	targetHigh  = 140
	dot         = 2.6
	tick        = 5
)

func (t target) draw(c *sheet, x, y vg.Length) {
	const room = 112
	x += 6
	c.text(normal, 0, -1, x, y, short(normal, t.names.Coupling(t.limit.Coupling), room))
	kind, most := t.names.use(t.limit.Uses[0].Use)
	c.text(small, 0, -1, x, y-10, short(small, t.names.Condition(t.limit.Condition), room))
	c.text(small, 0, -1, x, y-19, short(small, kind, room))
	mx, my := x+targetHalf+6, y-30-targetHalf
	c.box(hair(), mx-targetHalf, my-targetHalf, mx+targetHalf, my+targetHalf)
	for _, side := range [...]vg.Length{-1, 1} { // where what is wanted lies, at the edges
		c.line(hair(), mx+side*targetHalf, my, mx+side*(targetHalf-tick), my)
		c.line(hair(), mx, my+side*targetHalf, mx, my+side*(targetHalf-tick))
	}
	t.edge(c, mx, my, targetLimit, limit())
	if t.aim > 0 && t.aim < 1 {
		t.edge(c, mx, my, targetLimit*vg.Length(t.aim), hair())
	}
	lines, n := []string{""}, 0
	for i, use := range t.limit.Uses {
		mark := markOf(use.Time)
		point(c, mx, my, &use.Use, mark.spot)
		if i == 2 { // all do not fit in a line
			lines, n = append(lines, ""), 1
		} else if i > 0 {
			lines[n] += ", "
		}
		lines[n] += mark.words + " " + words.Percent(use.Share)
	}
	if n == 0 {
		lines, n = append(lines, ""), 1
	} else {
		lines[n] += ", "
	}
	lines[n] += "limit " + most
	c.text(small, 0, -1, x, my-targetHalf-3, lines[0])
	c.text(small, 0, -1, x, my-targetHalf-12, lines[1])
}

// edge is where a share of the limit ends: a circle, a square where the planes
// are limited each, two lines for a distance.
func (t target) edge(c *sheet, x, y, at vg.Length, style style) {
	switch {
	case t.limit.Uses[0].Kind == train.Gap:
		c.line(style, x-targetHalf, y+at, x+targetHalf, y+at)
		c.line(style, x-targetHalf, y-at, x+targetHalf, y-at)
	case t.limit.EachPlane:
		c.box(style, x-at, y-at, x+at, y+at)
	default:
		c.circle(style, x, y, at)
	}
}

// point is where a misalignment is; one that is outside the square is an arrow at
// its edge.
func point(c *sheet, x, y vg.Length, u *train.Use, spot spot) {
	dx, dy := -u.H/u.Limit*targetLimit, u.V/u.Limit*targetLimit
	if most := math.Max(math.Abs(dx), math.Abs(dy)); most > targetHalf-dot {
		by := (targetHalf - 1) / most
		c.arrow(spot.line(), x+vg.Length(dx*by*0.72), y+vg.Length(dy*by*0.72), x+vg.Length(dx*by), y+vg.Length(dy*by))
		return
	}
	spot.draw(c, x+vg.Length(dx), y+vg.Length(dy))
}

// targetLegend says what the marks are.
func targetLegend(c *sheet, y vg.Length, marks []mark) {
	x := vg.Length(8)
	say := func(words string) {
		c.text(small, 0, -0.35, x, y, words)
		x += wide(small, words) + 14
	}
	for _, m := range marks {
		m.spot.draw(c, x, y)
		x += 7
		say(m.words)
	}
	c.arrow(before(), x, y, x+14, y)
	x += 20
	say("off the panel, that way")
	c.line(limit(), x, y, x+20, y)
	x += 24
	say("limit")
	c.line(hair(), x, y, x+20, y)
	x += 24
	say("what the plan may use of it")
}
