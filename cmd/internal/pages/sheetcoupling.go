package pages

import (
	"math"

	"leastmove/cmd/internal/sheet"
	"leastmove/cmd/internal/words"
	"leastmove/optimize/staging"
	"leastmove/train"
	"leastmove/train/readings"
)

// A showing is what the tables of a coupling say beside where it should stand.
type showing struct {
	gates []staging.AcceptanceTolerance // of every coupling: what it may be off by; nil: not said
	found bool                          // nothing has moved: what was read stands as it was read
}

// couplingTables are what a coupling is to read, with room to write what it
// does read and, where gates are said, what that may be off by. Where the file names
// dials or other instruments, it is these that are written down.
func (t *order) couplingTables(i int, r *train.Reading, what showing) []sheet.Table {
	c := &t.Train.Couplings[i]
	told := toShow(c)
	text := func(s string) sheet.Cell { return sheet.Cell{Text: s, Bold: true} }
	g := t.gateOf(i, told, what)
	k := sheet.Table{Form: "coupling", Head: []string{"coupling", "up and down", "reads", "sideways", "reads"}}
	box := g.whole(len(told) > 0 && tells(c, told))
	k.Rows = [][]sheet.Cell{{text(t.Coupling(i)), text(t.High(r.V)), box, text(t.Aside(r.H)), box}}
	dials := sheet.Table{Form: "dial", Head: []string{"dial, 0 at 12", "at 3", "reads", "at 6", "reads", "at 9", "reads"}}
	for n, d := range told {
		if d.Kind == train.OffsetDial {
			v, h := t.offsetsShown(c, d, r, what)
			box := g.offset(n)
			k.Rows = append(k.Rows, []sheet.Cell{{Text: "offset at x = " + t.Station(d.X)}, text(v), box, text(h), box})
			continue
		}
		row := []sheet.Cell{{Text: t.dial(c, d)}}
		for quarter, s := range t.dialShown(c, d, r, what) {
			row = append(row, text(s), g.dial(n, quarter+1))
		}
		dials.Rows = append(dials.Rows, row)
	}
	if n, _ := t.Apart(r.Gap); n != "" {
		k.Rows = append(k.Rows, []sheet.Cell{{Text: "shaft ends"}, text(words.With(n, t.LengthUnit()) + " apart"), g.ends(r.Gap), {}, {}})
	}
	if g.said && box.Write != nil {
		k.Head[2], k.Head[4] = "offset, angle", "offset, angle" // the boxes have no room for it
	}
	if box.Write == nil && len(k.Rows) == 1 {
		k.Head[2], k.Head[4] = "", "" // it is the dials that are read
	}
	if dials.Rows == nil {
		return []sheet.Table{k}
	}
	return []sheet.Table{k, dials}
}

// tells says whether instruments of a coupling tell an offset from an angle.
func tells(c *train.Coupling, told []*train.Dial) bool {
	return readings.Margins(told, c.X, 1, 1) != nil
}

// offsetsShown is what an instrument that gives offsets should show, up and down
// and sideways; before anything is moved as in dialShown.
func (t *order) offsetsShown(c *train.Coupling, d *train.Dial, r *train.Reading, what showing) (up, side string) {
	v, h := readings.TargetAt(d, c.X, r.Misalignment)
	readV, readH := readings.AsReadAt(c.Dials, d)
	one := func(should, read float64, plus, minus string) string {
		switch {
		case !what.found:
			return words.Signed(t.Offset, should, plus, minus)
		case !math.IsNaN(read) && c.Taken == (train.Share{}):
			return words.Signed(func(mm float64) words.Number { return t.AsRead(mm, t.DialDigits()) }, read, plus, minus)
		}
		return "(" + words.Signed(t.Offset, should, plus, minus) + ")"
	}
	return one(v, readV, "%s high", "%s low"), one(h, readH, "%s left", "%s right")
}

// dialShown is what a dial should show at 3, 6 and 9. Before anything is moved that is
// what it read, cold; what it did not read so is worked out, and stands in brackets.
func (t *order) dialShown(c *train.Coupling, d *train.Dial, r *train.Reading, what showing) []string {
	decimals := t.Graduation(c)
	read := readings.AsRead(c.Dials, d, quarters())
	var out []string
	for n, v := range readings.Target(d, c.X, r.Misalignment, quarters()) {
		words := string(words.Fixed(v/t.Units.Move(), decimals))
		switch {
		case n == 0:
			continue
		case !what.found:
		case !math.IsNaN(read[n]) && c.Taken == (train.Share{}):
			words = string(t.AsRead(read[n], decimals))
		default:
			words = "(" + words + ")"
		}
		out = append(out, words)
	}
	return out
}
