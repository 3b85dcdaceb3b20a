package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// noRoom stands in a gate's boxes where next to nothing is left.
const noRoom = "no room"

// A gate is what one coupling may be off by, as it is said in the boxes to write in.
type gate struct {
	*order
	said   bool
	of     *view.WorkCoupling
	digits int // of the coupling's dials
}

// whole is room for an offset and an angle. Where it is dials that are read there is
// none: only what they come to may be off by stands there.
func (g *gate) whole(dials bool) doc.Cell {
	offset, angle := "", ""
	if g.said {
		offset, angle = "±"+string(g.Down(g.of.Offset-g.half(), g.FineDecimals)),
			"±"+string(words.Floor(math.Max(0, g.of.Angle-halfAngle), 3))
		if g.of.NoRoom {
			offset, angle = noRoom, noRoom
		}
	}
	switch {
	case !dials && g.said:
		return doc.Cell{Write: []string{offset, angle}}
	case !dials:
		return doc.Cell{Write: []string{"offset", "angle"}}
	case g.said && offset == noRoom:
		return doc.Cell{Text: noRoom}
	case g.said:
		return doc.Cell{Text: offset + ", " + angle}
	}
	return doc.Cell{}
}

// half in mm, and halfAngle in mrad, are what the printed numbers that a gate is about may be
// rounded by: it is taken off.
func (g *gate) half() float64 { return g.Units.Move() * math.Pow10(-g.FineDecimals) / 2 }

const halfAngle = 0.0005

// offset is room for what an instrument gives, an offset.
func (g *gate) offset(d *view.Instrument) doc.Cell {
	if !g.said || math.IsNaN(d.Margin) {
		return offBy("")
	}
	return offBy(g.Down(d.Margin-g.half(), g.FineDecimals))
}

// dial is room for what a dial shows, a number of quarters past 12. What its printed
// numbers are rounded by is taken off.
func (g *gate) dial(d *view.Instrument, quarter int) doc.Cell {
	m := d.MarginAt(quarter)
	if !g.said || math.IsNaN(m) {
		return offBy("")
	}
	half := g.Units.Move() * math.Pow10(-g.digits) / 2
	if m-half < g.Readable() {
		return offBy("")
	}
	return offBy(g.Down(m-half, g.digits))
}

// ends is room for the distance between shaft ends, which should be so many mm. What its
// printed number is rounded by is taken off what it may be off by.
func (g *gate) ends(mm float64) doc.Cell {
	switch {
	case !g.said:
		return offBy("")
	case g.of.NoEndRoom:
		return doc.Cell{Write: []string{noRoom}}
	}
	_, off := g.Apart(mm)
	return offBy(g.Down(g.of.Gap-off, g.DialDigits()))
}

// offBy is room for a number that may be off by so much; nothing is said where that
// is less than it shows.
func offBy(n words.Number) doc.Cell {
	if n.Zero() {
		return doc.Cell{Write: []string{""}}
	}
	return doc.Cell{Write: []string{"±" + string(n)}}
}

// gateWords say what ± means, once.
func (t *order) gateWords() string {
	words := fmt.Sprintf("OK if within ± of the bold number in every box (± at most %s, %s).",
		words.With(t.Moved(t.work.SoftFoot), t.MoveUnit()), words.With(t.Angle(view.MostTurned), "mrad"))
	if t.work.Instrumented {
		words += " Where a dial is further off, or has no ±, offset and angle from all of them decide (leastmove readings)."
	}
	if none := t.noneInHand(); none != "" {
		words += " " + none
	}
	return words
}

// noneInHand says so of all couplings of which it is so; "" where there is room at all.
func (t *order) noneInHand() string {
	if t.work.Tight != nil {
		return t.nothingInHand(t.work.Tight)
	}
	return ""
}

// nothingInHand says what a gate with no room means to a crew.
func (t *order) nothingInHand(couplings []int) string {
	var names []string
	for _, i := range couplings {
		names = append(names, t.quoted(i))
	}
	what := "Not for carrying out before the engineer says so."
	if len(t.work.Stages) == 0 {
		what = "Not to be left so before the engineer says so."
	}
	return fmt.Sprintf("NO MARGIN at %s (%s): this plan uses up the limits there. %s", words.And(names),
		noRoom, what)
}

// quoted is a coupling's name in a sentence.
func (t *order) quoted(i int) string { return `"` + t.Coupling(i) + `"` }
