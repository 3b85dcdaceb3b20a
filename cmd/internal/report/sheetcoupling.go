package report

import (
	"leastmove/cmd/internal/sheet"
	"leastmove/train"
	"leastmove/train/readings"
)

// couplingTables are what a coupling is to read, with room to write what it
// does read. Where the file names dials or other instruments, it is these that
// are written down.
func (t *order) couplingTables(i int, r *train.Reading) []sheet.Table {
	c := &t.t.Couplings[i]
	told := len(toShow(c)) > 0
	box := sheet.Cell{Write: []string{"offset", "angle"}}
	if told {
		box = sheet.Cell{}
	}
	text := func(s string) sheet.Cell { return sheet.Cell{Text: s, Bold: true} }
	k := sheet.Table{Form: "coupling", Head: []string{"coupling", "up and down", "reads", "sideways", "reads"}}
	k.Rows = [][]sheet.Cell{{text(t.coupling(i)), text(t.high(r.V)), box, text(t.aside(r.H)), box}}
	write := sheet.Cell{Write: []string{""}}
	dials := sheet.Table{Form: "dial", Head: []string{"dial, 0 at 12", "at 3", "reads", "at 6", "reads", "at 9", "reads"}}
	for _, d := range toShow(c) {
		if d.Kind == train.OffsetDial {
			v, h := readings.TargetAt(d, c.X, r.Misalignment)
			k.Rows = append(k.Rows, []sheet.Cell{
				{Text: "offset at x = " + t.station(d.X)},
				text(signed(t.offset, v, "%s high", "%s low")), write, text(signed(t.offset, h, "%s left", "%s right")), write,
			})
			continue
		}
		row := []sheet.Cell{{Text: t.dial(c, d)}}
		for _, v := range readings.Target(d, c.X, r.Misalignment, quarters())[1:] {
			row = append(row, text(string(t.offset(v))), write)
		}
		dials.Rows = append(dials.Rows, row)
	}
	if n := t.length(r.Gap); n != "" {
		k.Rows = append(k.Rows, []sheet.Cell{{Text: "shaft ends"}, text(with(n, t.lengthUnit()) + " apart"), write, {}, {}})
	}
	if told && len(k.Rows) == 1 {
		k.Head[2], k.Head[4] = "", "" // it is the dials that are read
	}
	if dials.Rows == nil {
		return []sheet.Table{k}
	}
	return []sheet.Table{k, dials}
}
