package pages

import (
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A showing is what the tables of a coupling say beside where it should stand.
type showing struct {
	gates bool // what it may be off by
	found bool // nothing has moved: what was read stands as it was read
}

// couplingTables are what a coupling is to read, with room to write what it
// does read and, where gates are said, what that may be off by. Where the file names
// dials or other instruments, it is these that are written down.
func (t *order) couplingTables(i int, r *view.Reading, what showing) []doc.Table {
	c, w := &t.Train.Couplings[i], &t.work.Couplings[i]
	text := func(s string) doc.Cell { return doc.Cell{Text: s, Bold: true} }
	g := &gate{order: t, said: what.gates, of: w, digits: t.Graduation(c)}
	k := doc.Table{Form: "coupling", Columns: doc.Wides("coupling", "up and down", "reads", "sideways", "reads")}
	box := g.whole(w.Tells)
	k.Rows = [][]doc.Cell{{text(t.Coupling(i)), text(t.High(r.V)), box, text(t.Aside(r.H)), box}}
	dials := doc.Table{Form: "dial", Columns: doc.Wides("dial, 0 at 12", "at 3", "reads", "at 6", "reads",
		"at 9", "reads")}
	for n, target := range view.Targets(c, r.Misalignment) {
		d := &w.Instruments[n]
		if target.Offsets() {
			v, h := t.offsetsShown(d, target, what)
			box := g.offset(d)
			k.Rows = append(k.Rows, []doc.Cell{{Text: "offset at x = " + t.Station(d.X)}, text(v), box, text(h), box})
			continue
		}
		row := []doc.Cell{{Text: t.dial(c, d.Dial)}}
		for quarter, s := range t.dialShown(c, d, target, what) {
			row = append(row, text(s), g.dial(d, quarter+1))
		}
		dials.Rows = append(dials.Rows, row)
	}
	if n, _ := t.Apart(r.Gap); n != "" {
		k.Rows = append(k.Rows, []doc.Cell{{Text: "shaft ends"}, text(words.With(n, t.LengthUnit()) + " apart"),
			g.ends(r.Gap), {}, {}})
	}
	if g.said && box.Write != nil {
		k.Columns[2].Head, k.Columns[4].Head = "offset, angle", "offset, angle" // the boxes have no room for it
	}
	if box.Write == nil && len(k.Rows) == 1 {
		k.Columns[2].Head, k.Columns[4].Head = "", "" // it is the dials that are read
	}
	if dials.Rows == nil {
		return []doc.Table{k}
	}
	return []doc.Table{k, dials}
}

// offsetsShown is what an instrument that gives offsets should show, up and down
// and sideways; before anything is moved as in dialShown.
func (t *order) offsetsShown(d *view.Instrument, target view.Target, what showing) (up, side string) {
	one := func(should, read float64, plus, minus string) string {
		switch {
		case !what.found:
			return words.Signed(t.Offset, should, plus, minus)
		case !math.IsNaN(read):
			return words.Signed(func(mm float64) words.Number { return t.AsRead(mm, t.DialDigits()) }, read, plus, minus)
		}
		return "(" + words.Signed(t.Offset, should, plus, minus) + ")"
	}
	return one(target.V, d.ReadV, "%s high", "%s low"), one(target.H, d.ReadH, "%s left", "%s right")
}

// dialShown is what a dial should show at 3, 6 and 9. Before anything is moved that is
// what it read, cold; what it did not read so is worked out, and stands in brackets.
func (t *order) dialShown(c *view.Coupling, d *view.Instrument, target view.Target, what showing) []string {
	decimals := t.Graduation(c)
	var out []string
	for n, v := range target.Clock[1:] {
		words := string(words.Fixed(v/t.Units.Move(), decimals))
		switch read := d.Read[n+1]; {
		case !what.found:
		case !math.IsNaN(read):
			words = string(t.AsRead(read, decimals))
		default:
			words = "(" + words + ")"
		}
		out = append(out, words)
	}
	return out
}
