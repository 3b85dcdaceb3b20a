package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/pages"
	"leastmove/optimize"
	"leastmove/train"
)

// Couplings draws what every coupling takes up of each of its limits, in every
// condition, before and after: a panel for each limit, up and to the left as
// looking along the train, the limit as a circle. Many go over several drawings.
func Couplings(p *optimize.Plan) []Drawing {
	words := pages.WordsOf(p)
	var panels []panel
	for i := range p.Train.Couplings {
		for k := range p.Train.Conditions {
			for u, found := range p.Found.Couplings[i][k].Uses {
				t := target{words: words, coupling: i, condition: k, each: p.Train.Couplings[i].Limit.EachPlane, aim: p.Aim}
				t.states = []state{{found, open, "as found"}}
				if planned(p) {
					t.states = []state{{found, open, "before"}, {p.Planned.Couplings[i][k].Uses[u], full, "after"}}
				}
				panels = append(panels, t.draw)
			}
		}
	}
	marks := []state{{spot: open, words: "as found"}}
	if planned(p) {
		marks = []state{{spot: open, words: "before"}, {spot: full, words: "after"}}
	}
	return targets(panels, marks)
}

// targets sets panels with such marks side by side.
func targets(panels []panel, marks []state) []Drawing {
	return tables("Couplings against their limits: high is up, left is to the left, looking along the train", panels, 4, targetHigh, func(c *sheet, y vg.Length) {
		targetLegend(c, y, marks)
	})
}

// A target is one limit of a coupling in one condition.
type target struct {
	words     pages.Words
	coupling  int
	condition int
	each      bool
	states    []state // one or more, in their order in time
	aim       float64 // share of the limit that the plan may use
}

// A state is what of a limit is taken up at one time, and how that is shown.
type state struct {
	use   train.Use
	spot  spot
	words string
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
	c.text(normal, 0, -1, x, y, short(normal, t.words.Coupling(t.coupling), room))
	kind, most := t.words.Use(t.states[0].use)
	c.text(small, 0, -1, x, y-10, short(small, t.words.Condition(t.condition), room))
	c.text(small, 0, -1, x, y-19, short(small, kind, room))
	mx, my := x+targetHalf+6, y-30-targetHalf
	c.box(hair(), mx-targetHalf, my-targetHalf, mx+targetHalf, my+targetHalf)
	for _, side := range [...]vg.Length{-1, 1} { // where what is wanted lies, at the edges
		c.line(hair(), mx+side*targetHalf, my, mx+side*(targetHalf-tick), my)
		c.line(hair(), mx, my+side*targetHalf, mx, my+side*(targetHalf-tick))
	}
	t.limit(c, mx, my, targetLimit, limit())
	if t.aim > 0 && t.aim < 1 {
		t.limit(c, mx, my, targetLimit*vg.Length(t.aim), hair())
	}
	lines, n := []string{""}, 0
	for i, state := range t.states {
		t.point(c, mx, my, state)
		if i == 2 { // all do not fit in a line
			lines, n = append(lines, ""), 1
		} else if i > 0 {
			lines[n] += ", "
		}
		lines[n] += state.words + " " + t.words.Percent(state.use.Share)
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

// limit is where a share of the limit ends: a circle, a square where the planes
// are limited each, two lines for a distance.
func (t target) limit(c *sheet, x, y, at vg.Length, style style) {
	switch {
	case t.states[0].use.Kind == train.Gap:
		c.line(style, x-targetHalf, y+at, x+targetHalf, y+at)
		c.line(style, x-targetHalf, y-at, x+targetHalf, y-at)
	case t.each:
		c.box(style, x-at, y-at, x+at, y+at)
	default:
		c.circle(style, x, y, at)
	}
}

// point is where a misalignment is; one that is outside the square is an arrow at
// its edge.
func (t target) point(c *sheet, x, y vg.Length, s state) {
	u := s.use
	dx, dy := -u.H/u.Limit*targetLimit, u.V/u.Limit*targetLimit
	if most := math.Max(math.Abs(dx), math.Abs(dy)); most > targetHalf-dot {
		by := (targetHalf - 1) / most
		c.arrow(s.spot.line(), x+vg.Length(dx*by*0.72), y+vg.Length(dy*by*0.72), x+vg.Length(dx*by), y+vg.Length(dy*by))
		return
	}
	s.spot.draw(c, x+vg.Length(dx), y+vg.Length(dy))
}

// targetLegend says what the marks are.
func targetLegend(c *sheet, y vg.Length, marks []state) {
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
