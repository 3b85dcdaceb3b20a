package pages

import (
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A showing is what the tables of a coupling say beside where it should stand.
type showing int

const (
	inStage  showing = iota // what it may be off by after a stage
	asFound                 // nothing has moved: what was read stands as it was read, and what it may be off by
	accepted                // what it may be off by at the end, and how that is worked out
)

// every are the tables of all couplings.
func (t *order) every(rest []view.Reading, what showing) []doc.Table {
	var out []doc.Table
	for i := range rest {
		out = append(out, t.couplingTables(i, &rest[i], what)...)
	}
	return out
}

// couplingTables are what a coupling is to read, with room to write what it does read. Where the file names dials or
// other instruments it is these that are written down, else offset and angle.
func (t *order) couplingTables(i int, r *view.Reading, what showing) []doc.Table {
	c, w := &t.Train.Couplings[i], &t.work.Couplings[i]
	name := t.Coupling(i)
	switch what {
	case inStage:
		name += ": " + t.afterStage(i)
	case asFound:
		if len(w.Instruments) == 0 || t.repeatedAlike() == "" {
			name += ": " + t.repeated(i)
		}
	case accepted:
		name += ": " + t.accepted(i)
	}
	if len(w.Instruments) == 0 {
		k := doc.Table{Form: "coupling", Columns: doc.Wides("coupling", "up and down", "reads", "sideways",
			"reads")}
		pair := doc.Cell{Write: []string{"offset", "angle"}}
		k.Rows = append(k.Rows, []doc.Cell{bold(name), bold(t.High(r.V)), pair, bold(t.Aside(r.H)), pair})
		return append([]doc.Table{k}, t.endsTable(i, r, what)...)
	}
	offsets := doc.Table{Form: "offset", Paired: true,
		Columns: doc.Wides("offset", "up and down", "reads", "sideways", "reads")}
	dials := doc.Table{Form: "dial", Paired: true, Columns: doc.Wides("dial, 0 at 12", "at 3", "reads", "at 6", "reads",
		"at 9", "reads")}
	for n, target := range view.Targets(c, r.Misalignment) {
		d, name := &w.Instruments[n], lettered(n, t.dialBriefly(c, w.Instruments, n))
		if target.Offsets() {
			v, h := t.offsetsShown(d, target, what)
			offsets.Rows = append(offsets.Rows, []doc.Cell{{Text: name}, bold(v), box(), bold(h), box()})
			continue
		}
		row := []doc.Cell{{Text: name}}
		if what == asFound {
			row[0].Text = lettered(n, t.dialNamed(c, d.Dial, t.sagOf(d.Kind) == ""))
		}
		for _, s := range t.dialShown(c, d, target, what) {
			row = append(row, bold(s), box())
		}
		dials.Rows = append(dials.Rows, row)
	}
	var out []doc.Table
	for _, k := range []doc.Table{offsets, dials} {
		if k.Rows != nil {
			if k.Joins = out != nil; !k.Joins {
				k.Caption = name
			}
			out = append(out, k)
		}
	}
	if what == accepted && isWorked(w) {
		out = append(out, t.workedOut(i, r))
	}
	return append(out, t.endsTable(i, r, what)...)
}

// endsTable is the distance between shaft ends, where it is known; in a stage only where that shifts the machine along.
func (t *order) endsTable(i int, r *view.Reading, what showing) []doc.Table {
	n, _ := t.Apart(r.Gap)
	if n == "" || what == inStage && !t.along {
		return nil
	}
	should := words.With(n, t.LengthUnit()) + " apart"
	if what != inStage {
		should += ", " + t.endsWithin(&t.work.Couplings[i], r.Gap)
	}
	return []doc.Table{{Form: "ends", Joins: true, Bare: true, Columns: doc.Wides("ends", "", "reads"),
		Rows: [][]doc.Cell{{{Text: "shaft ends"}, bold(should), box()}}}}
}

// lettered is an instrument by its letter, which it has throughout the sheet, and its name.
func lettered(n int, name string) string { return letter(n) + "\n" + name }

func letter(n int) string { return string(rune('A' + n)) }

func bold(text string) doc.Cell { return doc.Cell{Text: text, Bold: true} }

func box() doc.Cell { return doc.Cell{Write: []string{""}} }

// offsetsShown is what an instrument that gives offsets should show, up and down
// and sideways; before anything is moved as in dialShown.
func (t *order) offsetsShown(d *view.Instrument, target view.Target, what showing) (up, side string) {
	one := func(should, read float64, plus, minus string) string {
		switch {
		case what != asFound:
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
		case what != asFound:
		case !math.IsNaN(read):
			words = string(t.AsRead(read, decimals))
		default:
			words = "(" + words + ")"
		}
		out = append(out, words)
	}
	return out
}

// inBrackets says what brackets mean; "" where nothing in some tables is worked out in
// place of what was read.
func inBrackets(tables []doc.Table) string {
	for _, k := range tables {
		for _, row := range k.Rows {
			for _, c := range row {
				if c.Bold && strings.HasPrefix(c.Text, "(") {
					return " In brackets: not read there cold, worked out."
				}
			}
		}
	}
	return ""
}
