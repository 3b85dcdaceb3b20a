package report

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/sheet"
	"leastmove/optimize"
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
	of      optimize.Gate
	digits  int       // of the coupling's dials
	margins []float64 // mm, of its instruments; nil: offset and angle decide alone
}

func (t *order) gateOf(i int, told []*train.Dial, what showing) *gate {
	g := &gate{order: t, said: what.gates != nil}
	if !g.said {
		return g
	}
	c := &t.t.Couplings[i]
	g.of, g.digits = what.gates[i], t.graduation(c)
	if g.of.Share >= slim {
		g.margins = readings.Margins(told, c.X, g.of.Offset, g.of.Angle)
		for n := range g.margins { // far from the coupling's plane too no more than there
			g.margins[n] = math.Min(g.margins[n], optimize.SoftFoot(t.units))
		}
	}
	return g
}

// whole is room for an offset and an angle. Where it is dials that are read there is
// none: only what they come to may be off by stands there.
func (g *gate) whole(dials bool) sheet.Cell {
	offset, angle := "", ""
	if g.said {
		offset, angle = "±"+string(g.down(g.of.Offset-g.half(), g.fine)), "±"+string(floor(math.Max(0, g.of.Angle-halfAngle), 3))
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
func (g *gate) half() float64 { return g.units.Move() * math.Pow10(-g.fine) / 2 }

const halfAngle = 0.0005

// offset is room for what instrument n gives, an offset.
func (g *gate) offset(n int) sheet.Cell {
	if !g.said || g.margins == nil {
		return offBy("")
	}
	return offBy(g.down(g.margins[n]-g.half(), g.fine))
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
	half := g.units.Move() * math.Pow10(-g.digits) / 2
	if m-half < g.readable() {
		return offBy("")
	}
	return offBy(g.down(m-half, g.digits))
}

// ends is room for the distance between shaft ends, which should be so many mm. What its
// printed number is rounded by is taken off what it may be off by.
func (g *gate) ends(mm float64) sheet.Cell {
	switch {
	case !g.said:
		return offBy("")
	case g.of.Gap < slim*optimize.SoftFoot(g.units):
		return sheet.Cell{Write: []string{noRoom}}
	}
	_, off := g.apart(mm)
	return offBy(g.down(g.of.Gap-off, g.dialDigits()))
}

// offBy is room for a number that may be off by so much; nothing is said where that
// is less than it shows.
func offBy(n number) sheet.Cell {
	if n.zero() {
		return sheet.Cell{Write: []string{""}}
	}
	return sheet.Cell{Write: []string{"±" + string(n)}}
}

// down is a length in mm to so many decimals, never more than it is.
func (n numbers) down(mm float64, decimals int) number {
	return floor(math.Max(0, mm)/n.units.Move(), decimals)
}

// apart is a distance between shaft ends in mm as a crew reads it, to 0.05 mm or 0.002
// inch (common practice, no source), and by how many mm that is off.
func (n numbers) apart(mm float64) (number, float64) {
	step, digits := 0.05, 2
	if n.units == train.Inches {
		step, digits = 0.002*n.units.Length(), 3
	}
	read := math.Round(mm/step) * step
	return fixed(read/n.units.Length(), digits), math.Abs(read - mm)
}

// dialled says whether any coupling is read with a rim or face dial.
func (t *order) dialled() bool { return t.has(train.RimDial, train.FaceDial) }

// has says whether any coupling is read with an instrument of some kind.
func (t *order) has(kinds ...train.DialKind) bool {
	for i := range t.t.Couplings {
		if slices.ContainsFunc(toShow(&t.t.Couplings[i]), func(d *train.Dial) bool { return slices.Contains(kinds, d.Kind) }) {
			return true
		}
	}
	return false
}

// gateWords say what ± means, once.
func (t *order) gateWords() string {
	words := fmt.Sprintf("OK if within ± of the bold number in every box (± at most %s, %s).",
		with(t.moved(optimize.SoftFoot(t.units)), t.moveUnit()), with(t.angle(optimize.MostTurned), "mrad"))
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
		if slices.Contains(couplings, i) && (g.Share < slim || g.Gap < slim*optimize.SoftFoot(t.units)) {
			out = append(out, t.quoted(i))
		}
	}
	return out
}

// noneInHand says so of all couplings of which it is so; "" where there is room at all.
func (t *order) noneInHand() string {
	var all []int
	for i := range t.t.Couplings {
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
	return fmt.Sprintf("NOTHING IN HAND at %s (%s): this plan uses up the limits there. %s", and(couplings), noRoom, what)
}

// quoted is a coupling's name in a sentence.
func (t *order) quoted(i int) string { return `"` + t.coupling(i) + `"` }
