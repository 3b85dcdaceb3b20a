package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// workedOut are tables by which a crew works offset and angle out of two instruments of a coupling.
func (t *order) workedOut(i int, r *view.Reading, name string) []doc.Table {
	c, w := &t.Train.Couplings[i], &t.work.Couplings[i]
	parts := doc.Table{Caption: name, Form: "working", Columns: doc.Wides("dial, 0 at 12", "at 3", "at 6", "at 9",
		"(S - at 6) / 2", "(at 9 - at 3) / 2")}
	offsets := doc.Table{Form: "working offsets", Columns: doc.Wides("offset, + high, + left", "up and down", "sideways")}
	for n, letter := range []string{"A", "B"} {
		d := &w.Instruments[w.Working.Parts[n]]
		if d.Kind == view.OffsetDial {
			offsets.Rows = append(offsets.Rows, []doc.Cell{{Text: letter + ": at x = " + t.Station(d.X)}, box(), box()})
			continue
		}
		sag := words.Fixed(d.SagOf()/t.Units.Move(), max(t.DialDigits(), words.Decimals(d.SagOf()/t.Units.Move(), 0, 4)))
		parts.Rows = append(parts.Rows, []doc.Cell{{Text: fmt.Sprintf("%s: %s, S = %s", letter, t.dialAt(c, d), sag)},
			box(), box(), box(), box(), box()})
	}
	sums := doc.Table{Form: "sums", Columns: doc.Wides("work out", "up and down, to be", "is", "sideways, to be", "is")}
	should := func(plus float64, print func(float64) words.Number) string {
		n := print(plus)
		if plus > 0 && !n.Zero() {
			return "+" + string(n)
		}
		return string(n)
	}
	sums.Rows = [][]doc.Cell{
		{{Text: "offset = " + weighted(w.Working.Offset, 1)}, bold(should(r.V.Offset, t.Offset)), box(),
			bold(should(r.H.Offset, t.Offset)), box()},
		{{Text: "angle = " + weighted(w.Working.Angle, t.Units.Move())}, bold(should(r.V.Angle, t.Angle)), box(),
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

// dialAt names a dial by what tells it from the other of its coupling.
func (t *order) dialAt(c *view.Coupling, d *view.Instrument) string {
	all, _, _ := strings.Cut(t.dial(c, d.Dial), ", sag")
	return all
}

// weighted is a sum of A and B with weights in units of 1 / unit, as a crew works it out.
func weighted(w [2]float64, unit float64) string {
	out := ""
	for n, letter := range []string{"A", "B"} {
		v := w[n] * unit
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
		out += letter
	}
	return out
}

// workingWords say how offset and angle are worked out, once; "" where no coupling needs it.
func (t *order) workingWords() string {
	dials, any := false, false
	for i := range t.work.Couplings {
		w := &t.work.Couplings[i]
		if w.Working == nil || w.AcceptDials > 0 {
			continue
		}
		any = true
		for _, k := range w.Working.Parts {
			dials = dials || w.Instruments[k].Kind != view.OffsetDial
		}
	}
	if !any {
		return ""
	}
	text := "Where A and B stand, dials tell less than the limits need: work offset and angle out, + is high, left, " +
		"slopes up, points left; three decimals in between."
	if dials {
		text += " S is the bracket's sag as it reads at 6."
	}
	return text
}
