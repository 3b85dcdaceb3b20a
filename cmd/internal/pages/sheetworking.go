package pages

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// workedOut is room in which a crew works offset and angle out of what two instruments of a coupling show, the sums
// and what they should come to above it.
func (t *order) workedOut(i int, r *view.Reading) doc.Table {
	w := &t.work.Couplings[i]
	k := doc.Table{Form: "working", Joins: true}
	row := []doc.Cell{}
	add := func(label, up, left string) {
		k.Columns = append(k.Columns, doc.Wides("", up, left)...)
		row = append(row, doc.Cell{Text: label}, box(), box())
	}
	var sags []string
	for _, n := range w.Working.Parts {
		d := &w.Instruments[n]
		if d.Kind == view.OffsetDial { // it gives them
			continue
		}
		k.Form += " dial"
		add(letter(n), "(S-6)/2", "(9-3)/2")
		if t.sagOf(d.Kind) == "" {
			sags = append(sags, fmt.Sprintf("%s for %s", t.sag(d), letter(n)))
		}
	}
	add("offset", "up", "left")
	add("angle", "up", "left")
	k.Rows = [][]doc.Cell{row}
	should := func(plus float64, print func(float64) words.Number) string {
		n := print(plus)
		if plus > 0 && !n.Zero() {
			return "+" + string(n)
		}
		return string(n)
	}
	k.Caption = fmt.Sprintf("offset %s: up %s, left %s; angle %s: up %s, left %s",
		weighted(w.Working, w.Working.Offset, 1), should(r.V.Offset, t.Offset), should(r.H.Offset, t.Offset),
		weighted(w.Working, w.Working.Angle, t.Units.Move()), should(r.V.Angle, t.Angle), should(r.H.Angle, t.Angle))
	if sags != nil {
		k.Caption += "; S is " + words.And(sags)
	}
	return k
}

// weighted is a sum of two instruments' values with weights in units of 1 / unit, as a crew works it out.
func weighted(by *view.Working, weights [2]float64, unit float64) string {
	out := ""
	for k, n := range by.Parts {
		v := weights[k] * unit
		size := words.Fixed(math.Abs(v), 3)
		switch {
		case size.Zero():
			continue
		case out == "" && v < 0:
			out = "-"
		case out != "" && v < 0:
			out += " - "
		case out != "":
			out += " + "
		}
		if s := size.Short(); s != "1" {
			out += s + " "
		}
		out += letter(n)
	}
	return out
}

// isWorked says whether offset and angle of a coupling are worked out.
func isWorked(w *view.WorkCoupling) bool { return w.Working != nil && w.AcceptDials == 0 }

// sag is what the bracket of a dial reads at 6.
func (t *order) sag(d *view.Instrument) string {
	return string(t.Sag(d.SagOf()))
}

// worksOutOf says whether offset and angle of some coupling are worked out of a dial of a kind.
func (t *order) worksOutOf(kind view.DialKind) bool {
	for i := range t.work.Couplings {
		w := &t.work.Couplings[i]
		if isWorked(w) && slices.ContainsFunc(w.Working.Parts[:], func(k int) bool { return w.Instruments[k].Kind == kind }) {
			return true
		}
	}
	return false
}

// sagOf is the sag of all dials of a kind; "" where they have not all the same.
func (t *order) sagOf(kind view.DialKind) string {
	same := ""
	for i := range t.work.Couplings {
		for n := range t.work.Couplings[i].Instruments {
			switch d := &t.work.Couplings[i].Instruments[n]; {
			case d.Kind != kind:
			case same == "":
				same = t.sag(d)
			case same != t.sag(d):
				return ""
			}
		}
	}
	return same
}

// workingWords say how offset and angle are worked out, once; "" where no coupling needs it.
func (t *order) workingWords() string {
	some := func(w view.WorkCoupling) bool { return isWorked(&w) }
	if !slices.ContainsFunc(t.work.Couplings, some) {
		return ""
	}
	text := fmt.Sprintf("Where there is room, work out offset and angle: dials tell less than limits need. + is "+
		"high, left, slopes up, points left: the shaft nearer %s; three decimals.", t.Machine(t.Last()))
	if t.work.Dialled {
		text += fmt.Sprintf(" S is the sag%s; 3, 6, 9: as read.", t.sagsAlike(true))
	}
	return text
}
