package pages

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// workedOut are tables by which a crew works offset and angle out of two instruments of a coupling.
func (t *order) workedOut(i int, r *view.Reading, name string) []doc.Table {
	c, w := &t.Train.Couplings[i], &t.work.Couplings[i]
	parts := doc.Table{Caption: name, Form: "working", Paired: true, Columns: doc.Wides("dial, 0 at 12", "at 3", "at 6",
		"at 9", "(S-6)/2", "(9-3)/2")}
	offsets := doc.Table{Form: "working offsets", Paired: true, Columns: doc.Wides("offset, + high, + left", "up and down",
		"sideways")}
	for _, n := range w.Working.Parts {
		d := &w.Instruments[n]
		brief := lettered(n, t.dialBriefly(c, w.Instruments, n))
		if d.Kind == view.OffsetDial {
			offsets.Rows = append(offsets.Rows, []doc.Cell{{Text: brief}, box(), box()})
			continue
		}
		if t.sagOf(d.Kind) == "" {
			brief += ", S = " + t.sag(d)
		}
		parts.Rows = append(parts.Rows, []doc.Cell{{Text: brief}, box(), box(), box(), box(), box()})
	}
	sums := doc.Table{Form: "sums", Paired: true, Joint: " ",
		Columns: doc.Wides("work out", "up", "is", "left", "is")}
	should := func(plus float64, print func(float64) words.Number) string {
		n := print(plus)
		if plus > 0 && !n.Zero() {
			return "+" + string(n)
		}
		return string(n)
	}
	sums.Rows = [][]doc.Cell{
		{{Text: "offset\n= " + weighted(w.Working, w.Working.Offset, 1)}, bold(should(r.V.Offset, t.Offset)), box(),
			bold(should(r.H.Offset, t.Offset)), box()},
		{{Text: "angle\n= " + weighted(w.Working, w.Working.Angle, t.Units.Move())}, bold(should(r.V.Angle, t.Angle)), box(),
			bold(should(r.H.Angle, t.Angle)), box()},
	}
	var out []doc.Table
	for _, k := range []doc.Table{parts, offsets, sums} {
		if k.Rows != nil {
			k.Joins = out != nil
			out = append(out, k)
		}
	}
	out[0].Caption = name
	return out
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
			out += s + " × "
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
	text := "Work offset and angle out where there is room to: dials tell less than the limits need. + is high, left, " +
		"slopes up, points left; three decimals."
	if t.work.Dialled {
		text += fmt.Sprintf(" S is the sag%s; 3, 6, 9 what is read there.", t.sagsAlike(true))
	}
	return text
}
