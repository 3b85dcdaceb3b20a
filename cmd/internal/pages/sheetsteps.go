package pages

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/sheet"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// every are the tables of all couplings.
func (t *order) every(rest []view.Reading, what showing) []sheet.Table {
	var out []sheet.Table
	for i := range rest {
		out = append(out, t.couplingTables(i, &rest[i], what)...)
	}
	return out
}

// inBrackets says whether anything in some tables is worked out in place of what was
// read.
func inBrackets(tables []sheet.Table) bool {
	for _, k := range tables {
		for _, row := range k.Rows {
			if slices.ContainsFunc(row, func(c sheet.Cell) bool { return c.Bold && strings.HasPrefix(c.Text, "(") }) {
				return true
			}
		}
	}
	return false
}

// tooSoft names the feet that are too soft to align on.
func (t *order) tooSoft() string {
	var feet []string
	for _, s := range t.work.TooSoft {
		feet = append(feet, fmt.Sprintf("%s %s (%s)", t.Machine(s.Machine), t.Foot(s.Machine, s.Foot), words.With(t.Offset(s.Gap), t.MoveUnit())))
	}
	return fmt.Sprintf("Too soft to align on, over %s: %s.", words.With(t.Moved(t.work.SoftFoot), t.MoveUnit()), words.And(feet))
}

// fills are the shims under soft feet alone.
func (t *order) fills() {
	k := sheet.Table{Form: "fill", Head: []string{"machine", "foot", "gap measured", "put under it", "gap then", "put in"}}
	for _, s := range t.plan.Soft {
		put := string(t.Moved(s.Fill))
		if t.Moved(s.Fill).Zero() {
			put = "nothing"
		}
		k.Rows = append(k.Rows, []sheet.Cell{
			{Text: t.Machine(s.Machine)}, {Text: t.Foot(s.Machine, s.Foot)},
			{Text: string(t.Offset(s.Gap))}, {Text: put, Bold: true}, {Write: []string{""}}, {Write: []string{""}},
		})
	}
	t.add(sheet.Block{
		Heading: "Soft foot", Fields: []string{"by", "time"},
		Text:   []string{"One bolt loose at a time, the others tight: fill the gap, tighten, measure again. In " + t.MoveUnit() + "."},
		Tables: []sheet.Table{k},
	})
}

// readAgain has room for new readings, once the feet bear.
func (t *order) readAgain() {
	t.add(sheet.Block{
		Heading: "All bolts tight: read every coupling again", Fields: []string{"by", "time"}, Tables: t.again(),
		Text: []string{"How the second shaft stands against the first, cold and at standstill. Write these readings into the file and plan again."},
	})
	t.sign()
}

// again are tables with room for new readings of every coupling.
func (t *order) again() []sheet.Table {
	box := sheet.Cell{Write: []string{""}}
	k := sheet.Table{Form: "again", Head: []string{"coupling", "offset up and down", "angle up and down", "offset sideways", "angle sideways"}}
	dials := sheet.Table{Form: "dial again", Head: []string{"dial", "at 12", "at 3", "at 6", "at 9"}}
	for i := range t.Train.Couplings {
		c := &t.Train.Couplings[i]
		told := t.work.Couplings[i].Instruments
		if len(told) == 0 {
			k.Rows = append(k.Rows, []sheet.Cell{{Text: t.Coupling(i), Bold: true}, box, box, box, box})
		}
		for _, d := range told {
			if d.Read == nil {
				k.Rows = append(k.Rows, []sheet.Cell{{Text: t.Coupling(i) + ", x = " + t.Station(d.X), Bold: true}, box, {}, box, {}})
				continue
			}
			dials.Rows = append(dials.Rows, []sheet.Cell{{Text: t.Coupling(i) + ": " + t.dial(c, d.Dial)}, box, box, box, box})
		}
	}
	var tables []sheet.Table
	for _, k := range []sheet.Table{k, dials} {
		if k.Rows != nil {
			tables = append(tables, k)
		}
	}
	return tables
}

// stand is what every coupling should read where nothing is moved.
func (t *order) stand() {
	b := sheet.Block{
		Heading: "What couplings should read, cold and at standstill", Fields: []string{"by", "time"},
		Text:   []string{t.gateWords(), "Off by more: stop, plan from what they read."},
		Tables: t.every(t.work.Before, showing{gates: true, found: true}),
	}
	if inBrackets(b.Tables) {
		b.Text[1] += " In brackets: not read there cold, worked out."
	}
	t.add(b)
	t.add(sheet.Block{Boxes: closing()})
	t.sign()
}

// after is tightening and what everything must read then.
func (t *order) after() {
	softest := words.With(t.Moved(t.work.SoftFoot), t.MoveUnit())
	heading := "All stages done: tighten, and read everything again"
	if t.work.Void {
		heading += ", provisional"
	}
	b := sheet.Block{Heading: heading, Fields: []string{"by", "time"}, Ticks: []string{
		"Shims home. Tighten crosswise, in steps, to the maker's torque, dials at the feet: a foot that moves by more than " + softest + t.softStops() + " is soft: stop. Only then jack bolts off.",
		"Bolts tight, nothing warm: read every coupling, write it here. Off by more than ±: stop; leastmove verify says if limits hold.",
	}}
	if none := t.noneInHand(); none != "" {
		b.Text = []string{none}
	}
	last := t.work.Stages[len(t.work.Stages)-1]
	b.Tables = t.every(last.Rest, showing{gates: true})
	t.add(b)
	t.add(sheet.Block{Boxes: append([]string{"Pipe strain once more.", "Dowels as the makers say."}, closing()...)})
	t.sign()
}

// closing is what is ticked off before the train is let go.
func closing() []string {
	return []string{
		"Dials, brackets, bars off, counted.", "Shafts turn by hand.", "Coupling bolts to the maker's torque, match marks in line.",
		"Guards on.", "Tags off last, by their owners.",
	}
}

// sign is where who did the work signs for it, and what the plan's sum is.
func (t *order) sign() {
	t.add(sheet.Block{
		Fields: []string{"Done by", "Checked by", "Time"},
		Text:   []string{fmt.Sprintf("Plan %s: so begins the SHA-256 of what leastmove plan --format json writes, with the same flags.", t.out.Plan)},
	})
}
