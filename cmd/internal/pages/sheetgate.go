package pages

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/sheet"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/train"
	"leastmove/train/readings"
)

// slim is the share of the widest gate below which what is left of a coupling's
// limits is next to nothing: 0.005 mm or 0.2 mil, and 0.01 mrad, which is less than
// dials tell.
const slim = 0.1

// noRoom stands in a gate's boxes where next to nothing is left.
const noRoom = "no room"

// A gate is what one coupling may be off by, as it is said in the boxes to write in.
type gate struct {
	*order
	said    bool
	of      staging.AcceptanceTolerance
	digits  int       // of the coupling's dials
	margins []float64 // mm, of its instruments; nil: offset and angle decide alone
}

func (t *order) gateOf(i int, told []*train.Dial, what showing) *gate {
	g := &gate{order: t, said: what.gates != nil}
	if !g.said {
		return g
	}
	c := &t.Train.Couplings[i]
	g.of, g.digits = what.gates[i], t.Graduation(c)
	if g.of.Share >= slim {
		g.margins = readings.Margins(told, c.X, g.of.Offset, g.of.Angle)
		for n := range g.margins { // far from the coupling's plane too no more than there
			g.margins[n] = math.Min(g.margins[n], optimize.SoftFoot(t.Units))
		}
	}
	return g
}

// whole is room for an offset and an angle. Where it is dials that are read there is
// none: only what they come to may be off by stands there.
func (g *gate) whole(dials bool) sheet.Cell {
	offset, angle := "", ""
	if g.said {
		offset, angle = "±"+string(g.Down(g.of.Offset-g.half(), g.FineDecimals)), "±"+string(words.Floor(math.Max(0, g.of.Angle-halfAngle), 3))
		if g.of.Share < slim {
			offset, angle = noRoom, noRoom
		}
	}
	switch {
	case !dials && g.said:
		return sheet.Cell{Write: []string{offset, angle}}
	case !dials:
		return sheet.Cell{Write: []string{"offset", "angle"}}
	case g.said && offset == noRoom:
		return sheet.Cell{Text: noRoom}
	case g.said:
		return sheet.Cell{Text: offset + ", " + angle}
	}
	return sheet.Cell{}
}

// half in mm, and halfAngle in mrad, are what the printed numbers that a gate is about may be
// rounded by: it is taken off.
func (g *gate) half() float64 { return g.Units.Move() * math.Pow10(-g.FineDecimals) / 2 }

const halfAngle = 0.0005

// offset is room for what instrument n gives, an offset.
func (g *gate) offset(n int) sheet.Cell {
	if !g.said || g.margins == nil {
		return offBy("")
	}
	return offBy(g.Down(g.margins[n]-g.half(), g.FineDecimals))
}

// dial is room for what dial n shows, a number of quarters past 12. At 6 it may be off
// by twice as much. What its printed numbers are rounded by is taken off.
func (g *gate) dial(n, quarter int) sheet.Cell {
	if !g.said || g.margins == nil {
		return offBy("")
	}
	m := g.margins[n]
	if quarter == 2 {
		m *= 2
	}
	half := g.Units.Move() * math.Pow10(-g.digits) / 2
	if m-half < g.Readable() {
		return offBy("")
	}
	return offBy(g.Down(m-half, g.digits))
}

// ends is room for the distance between shaft ends, which should be so many mm. What its
// printed number is rounded by is taken off what it may be off by.
func (g *gate) ends(mm float64) sheet.Cell {
	switch {
	case !g.said:
		return offBy("")
	case g.of.Gap < slim*optimize.SoftFoot(g.Units):
		return sheet.Cell{Write: []string{noRoom}}
	}
	_, off := g.Apart(mm)
	return offBy(g.Down(g.of.Gap-off, g.DialDigits()))
}

// offBy is room for a number that may be off by so much; nothing is said where that
// is less than it shows.
func offBy(n words.Number) sheet.Cell {
	if n.Zero() {
		return sheet.Cell{Write: []string{""}}
	}
	return sheet.Cell{Write: []string{"±" + string(n)}}
}

// dialled says whether any coupling is read with a rim or face dial.
func (t *order) dialled() bool { return t.has(train.RimDial, train.FaceDial) }

// has says whether any coupling is read with an instrument of some kind.
func (t *order) has(kinds ...train.DialKind) bool {
	for i := range t.Train.Couplings {
		if slices.ContainsFunc(toShow(&t.Train.Couplings[i]), func(d *train.Dial) bool { return slices.Contains(kinds, d.Kind) }) {
			return true
		}
	}
	return false
}

// gateWords say what ± means, once.
func (t *order) gateWords() string {
	words := fmt.Sprintf("OK if within ± of the bold number in every box (± at most %s, %s).",
		words.With(t.Moved(optimize.SoftFoot(t.Units)), t.MoveUnit()), words.With(t.Angle(staging.MostTurned), "mrad"))
	if t.has(train.RimDial, train.FaceDial, train.OffsetDial) {
		words += " Where a dial is further off, or has no ±, offset and angle from all of them decide (leastmove readings)."
	}
	if none := t.noneInHand(); none != "" {
		words += " " + none
	}
	return words
}

// tight names those of some couplings, by number, of whose limits next to nothing is left.
func (t *order) tight(couplings ...int) []string {
	var out []string
	for i, g := range t.gates() {
		if slices.Contains(couplings, i) && (g.Share < slim || g.Gap < slim*optimize.SoftFoot(t.Units)) {
			out = append(out, t.quoted(i))
		}
	}
	return out
}

// noneInHand says so of all couplings of which it is so; "" where there is room at all.
func (t *order) noneInHand() string {
	var all []int
	for i := range t.Train.Couplings {
		all = append(all, i)
	}
	if tight := t.tight(all...); tight != nil {
		return t.nothingInHand(tight)
	}
	return ""
}

// nothingInHand says what a gate with no room means to a crew.
func (t *order) nothingInHand(couplings []string) string {
	what := "Not for carrying out before the engineer says so."
	if len(t.staging.Stages) == 0 {
		what = "Not to be left so before the engineer says so."
	}
	return fmt.Sprintf("NOTHING IN HAND at %s (%s): this plan uses up the limits there. %s", words.And(couplings), noRoom, what)
}

// quoted is a coupling's name in a sentence.
func (t *order) quoted(i int) string { return `"` + t.Coupling(i) + `"` }
