package pages

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// every are the tables of all couplings.
func (t *order) every(rest []view.Reading, what showing) []doc.Table {
	var out []doc.Table
	for i := range rest {
		out = append(out, t.couplingTables(i, &rest[i], what)...)
	}
	return out
}

// inBrackets says what brackets mean; "" where nothing in some tables is worked out in
// place of what was read.
func inBrackets(tables []doc.Table) string {
	for _, k := range tables {
		for _, row := range k.Rows {
			if slices.ContainsFunc(row, func(c doc.Cell) bool { return c.Bold && strings.HasPrefix(c.Text, "(") }) {
				return " In brackets: not read there cold, worked out."
			}
		}
	}
	return ""
}

// tooSoft names the feet that are too soft to align on.
func (t *order) tooSoft() string {
	var feet []string
	for _, s := range t.work.TooSoft {
		feet = append(feet, fmt.Sprintf("%s %s (%s)", t.Machine(s.Machine), t.Foot(s.Machine, s.Foot),
			words.With(t.Offset(s.Gap), t.MoveUnit())))
	}
	return fmt.Sprintf("Too soft to align on, over %s: %s.", words.With(t.Moved(t.work.SoftFoot), t.MoveUnit()),
		words.And(feet))
}

// fills are the shims under soft feet alone.
func (t *order) fills() {
	k := doc.Table{Form: "fill", Columns: doc.Wides("machine", "foot", "gap measured", "put under it",
		"gap then", "put in")}
	for _, s := range t.plan.Soft {
		put := string(t.Moved(s.Fill))
		if t.Moved(s.Fill).Zero() {
			put = "nothing"
		}
		k.Rows = append(k.Rows, []doc.Cell{
			{Text: t.Machine(s.Machine)}, {Text: t.Foot(s.Machine, s.Foot)},
			{Text: string(t.Offset(s.Gap))}, {Text: put, Bold: true}, {Write: []string{""}}, {Write: []string{""}},
		})
	}
	t.section("Soft foot")
	t.out.Say("One bolt loose at a time, the others tight: fill the gap, tighten, measure again. In " + t.MoveUnit() + ".")
	t.out.Table(k)
}

// readAgain has room for new readings, once the feet bear.
func (t *order) readAgain() {
	t.section("All bolts tight: read every coupling again")
	t.out.Say("How the second shaft sits relative to the first, cold and at standstill. Write these readings into the " +
		"file and plan again.")
	t.out.Tables(t.again())
}

// again are tables with room for new readings of every coupling.
func (t *order) again() []doc.Table {
	box := doc.Cell{Write: []string{""}}
	k := doc.Table{Form: "again", Columns: doc.Wides("coupling", "offset up and down", "angle up and down",
		"offset sideways", "angle sideways")}
	dials := doc.Table{Form: "dial again", Columns: doc.Wides("dial", "at 12", "at 3", "at 6", "at 9")}
	for i := range t.Train.Couplings {
		c := &t.Train.Couplings[i]
		told := t.work.Couplings[i].Instruments
		if len(told) == 0 {
			k.Rows = append(k.Rows, []doc.Cell{{Text: t.Coupling(i), Bold: true}, box, box, box, box})
		}
		for _, d := range told {
			if d.Read == nil {
				k.Rows = append(k.Rows, []doc.Cell{{Text: t.Coupling(i) + ", x = " + t.Station(d.X), Bold: true}, box, {}, box, {}})
				continue
			}
			dials.Rows = append(dials.Rows, []doc.Cell{{Text: t.Coupling(i) + ": " + t.dial(c, d.Dial)}, box, box, box, box})
		}
	}
	var tables []doc.Table
	for _, k := range []doc.Table{k, dials} {
		if k.Rows != nil {
			tables = append(tables, k)
		}
	}
	return tables
}

// stand is what every coupling should read where nothing is moved.
func (t *order) stand() {
	t.section("What couplings should read, cold and at standstill")
	tables := t.every(t.work.Before, showing{gates: true, found: true})
	t.out.Say(t.gateWords())
	t.out.Say("Off by more: stop, plan from what they read." + inBrackets(tables))
	t.out.Tables(tables)
	t.out.Section("")
	t.out.ShortChecks(closing())
}

// after is tightening and what everything must read then.
func (t *order) after() {
	softest := words.With(t.Moved(t.work.SoftFoot), t.MoveUnit())
	heading := "All stages done: tighten, and read everything again"
	if t.work.Void {
		heading += ", provisional"
	}
	t.section(heading)
	if none := t.noneInHand(); none != "" {
		t.out.Say(none)
	}
	t.out.Checks([]string{
		"Shims home. Tighten crosswise, in steps, to the maker's torque, dials at the feet: a foot that moves by " +
			"more than " + softest + t.softStops() + " is soft: stop. Only then jack bolts off.",
		"Bolts tight, nothing warm: read every coupling, write it here. Off by more than ±: stop; leastmove verify says " +
			"if limits hold.",
	})
	last := t.work.Stages[len(t.work.Stages)-1]
	t.out.Tables(t.every(last.Rest, showing{gates: true}))
	t.out.Section("")
	t.out.ShortChecks(append([]string{"Pipe strain once more.", "Dowels as the makers say."}, closing()...))
}

// closing is what is ticked off before the train is let go.
func closing() []string {
	return []string{
		"Dials, brackets, bars off, counted.", "Shafts turn by hand.",
		"Coupling bolts to the maker's torque, match marks in line.",
		"Guards on.", "Tags off last, by their owners.",
	}
}

// sign is where who did the work signs for it, and what the plan's sum is.
func (t *order) sign(sum string) {
	t.out.Section("", "Done by", "Checked by", "Time")
	t.out.Say(fmt.Sprintf("Plan %s: so begins the SHA-256 of what leastmove plan --format json writes, with the same "+
		"flags.", sum))
}
