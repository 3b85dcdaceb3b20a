package chart

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// This file has the words of the figure of the moves: its legend, and what it says to those who do not see it.

// legendRoom is the height of the legend with its notes.
func (m *movesFigure) legendRoom() vg.Length {
	room := movesLegendRoom + noteLine*vg.Length(len(m.notes()))
	if m.width < usualWidth {
		room += moreLegend
	}
	return room
}

// legend says what the marks are, and has the scale.
func (m *movesFigure) legend(c *sheet) {
	lines := m.notes()
	x, y := vg.Length(6), c.Min.Y+16+noteLine*vg.Length(len(lines))
	if m.width < usualWidth {
		y += moreLegend
	}
	say := func(room vg.Length, mark func(x vg.Length), words string) {
		if x+room+wide(small, words) > m.width {
			x, y = 6, y-legendLine
		}
		mark(x)
		c.text(small, 0, -0.35, x+room, y, words)
		x += room + wide(small, words) + 12
	}
	say(10, func(x vg.Length) { c.fill(ink(), x, y-4, x+shimBar, y+5) }, "+ shims in")
	say(10, func(x vg.Length) { c.box(outline(), x, y-4, x+shimBar, y+5) }, minus+" shims out")
	say(10, func(x vg.Length) { c.arrow(pen(1.2), x+3, y-5, x+3, y+5) }, "to the "+m.sides())
	say(12, func(x vg.Length) {
		c.fill(grey(), x, y-3.2, x+6.4, y+3.2)
		c.box(outline(), x, y-3.2, x+6.4, y+3.2)
	}, "stays")
	if slices.ContainsFunc(m.Train.Machines, func(m train.Machine) bool { return m.Hold }) {
		say(20, func(x vg.Length) {
			c.hatched(x, y-5, x+15, y+5)
			c.box(outline(), x, y-5, x+15, y+5)
		}, "held")
	}
	if m.most > 0 {
		unit := m.words.Units.Move()
		long := handy(m.most/unit) * unit
		w := vg.Length(long * m.scale)
		say(w+4, func(x vg.Length) {
			c.line(outline(), x, y, x+w, y)
			c.line(outline(), x, y-3, x, y+3)
			c.line(outline(), x+w, y-3, x+w, y+3)
		}, "moves: "+m.words.inMoves(long))
	}
	c.notes(small, 6, 6, noteLine, lines)
}

// notes are the lines under the legend.
func (m *movesFigure) notes() []string {
	var out []string
	for _, said := range []string{
		"Machines and distances are not to scale; bars and arrows are, with one scale for the train.", m.words.Sides(),
	} {
		out = append(out, lines(small, said, m.width-12)...)
	}
	return out
}

func (m *movesFigure) sides() string {
	if m.words.OwnSides() {
		return "left (" + short(small, m.words.left(), 120) + ")"
	}
	return "left"
}

// desc says the moves in words.
func (m *movesFigure) desc() string {
	var out, stay []string
	for i := range m.Moves {
		var feet []string
		for f := range m.Moves[i] {
			if said := m.said(i, f); len(said) > 0 {
				feet = append(feet, m.words.Foot(i, f)+": "+strings.Join(said, ", "))
			}
		}
		if feet == nil {
			stay = append(stay, m.words.Machine(i))
			continue
		}
		out = append(out, m.words.Machine(i)+": "+strings.Join(feet, "; "))
	}
	text := "Moves in " + m.words.MoveUnit() + ". " + strings.Join(out, ". ")
	if stay != nil {
		text += ". Not moved: " + words.And(stay)
	}
	return text + "."
}
