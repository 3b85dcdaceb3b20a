package report

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/sheet"
	"leastmove/optimize"
	"leastmove/train"
)

// before are the cautions, and what a crew looks at before it moves anything.
// Where a line has no source it is common practice.
func (t *order) before() {
	softest := with(t.moved(optimize.SoftFoot(t.units)), t.moveUnit())
	known := ""
	if !t.plan.Provisional() {
		known = t.softKnown()
	}
	b := sheet.Block{Heading: "Before anything is moved", Fields: []string{"by", "time"}, Ticks: []string{
		"Locked out, tagged out; heat and pressure let off. Mind guards, lifting, torque, hands when a shaft turns. Site rules, makers' manuals first.",
		"Couplings open, and they stay open; shafts turn by hand.",
		"Soft foot: one bolt loose at a time, a dial on the foot. Over " + softest + ": stop, put it right, read again." + known + " All flat, clean.",
		"Pipe strain: dials up and sideways on the shaft, then loosen the machine. More than the site allows: stop.",
		"Dowels out. Bolts loose only on the machine in hand. Jack bolts fitted, and backed off after every stage.",
	}}
	if !t.plan.Provisional() {
		b.Ticks = append(b.Ticks,
			"Dials at each foot of the machine in hand: one up, one sideways, in mid-travel, zeroed before every stage; at other feet they stay at zero. It sits on all its packs at once: a dial may differ a little from its own shims.",
			"Read every coupling, cold and at standstill. Off by more than ±, or two readings that differ: stop, plan again.",
		)
		gates := t.plan.Gates()
		b.Text = []string{t.travels(), t.gateWords(gates)}
		b.Tables = t.every(t.staging.Before, showing{gates, true})
		if inBrackets(b.Tables) {
			b.Text[0] += " In brackets: not read there cold, worked out."
		}
	}
	t.add(b)
}

// every are the tables of all couplings.
func (t *order) every(rest []train.Reading, what showing) []sheet.Table {
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

// travels says how far the dials at couplings go, and what the order is.
func (t *order) travels() string {
	words := "First the packs of a machine, then its side moves, a little at each end in turn."
	if !t.staging.Plain {
		words += " The order is not that of the train: it spares the dials their ends."
	}
	if w := t.staging.Largest; w.Travel > 0 {
		words += fmt.Sprintf(" Dials at couplings swing by %s at most, at %s (travel counted on: %s).",
			with(t.moved(w.Swing), t.moveUnit()), t.quoted(w.Coupling), with(t.moved(w.Travel), t.moveUnit()))
	}
	if t.has(train.RimDial, train.FaceDial) {
		words += fmt.Sprintf(" They are zeroed at 12, both shafts turned together; plus is plunger in if not said, sag is counted; 3 is on the right, seen from %s to %s.", t.machine(0), t.machine(t.last()))
	}
	return words + " " + t.offsetsAt()
}

// offsetsAt says where offsets are given.
func (t *order) offsetsAt() string {
	var at []string
	for i := range t.t.Couplings {
		at = append(at, fmt.Sprintf("%s (%s)", t.station(t.t.Couplings[i].X), t.quoted(i)))
	}
	return fmt.Sprintf("Offsets are at x = %s, in train stations (%s).", and(at), t.lengthUnit())
}

// tooSoft names the feet that are too soft to align on.
func (t *order) tooSoft() string {
	softest := optimize.SoftFoot(t.units)
	var feet []string
	for _, s := range t.plan.Soft {
		if s.Gap > softest*(1+fair) {
			feet = append(feet, fmt.Sprintf("%s %s (%s)", t.machine(s.Machine), t.foot(s.Machine, s.Foot), with(t.offset(s.Gap), t.moveUnit())))
		}
	}
	return fmt.Sprintf("Too soft to align on, over %s: %s.", with(t.moved(softest), t.moveUnit()), and(feet))
}

// fills are the shims under soft feet alone.
func (t *order) fills() {
	k := sheet.Table{Form: "fill", Head: []string{"machine", "foot", "gap measured", "put under it", "gap then", "put in"}}
	for _, s := range t.plan.Soft {
		put := string(t.moved(s.Fill))
		if t.moved(s.Fill).zero() {
			put = "nothing"
		}
		k.Rows = append(k.Rows, []sheet.Cell{
			{Text: t.machine(s.Machine)}, {Text: t.foot(s.Machine, s.Foot)},
			{Text: string(t.offset(s.Gap))}, {Text: put, Bold: true}, {Write: []string{""}}, {Write: []string{""}},
		})
	}
	t.add(sheet.Block{
		Heading: "Soft foot", Fields: []string{"by", "time"},
		Text:   []string{"One bolt loose at a time, the others tight: fill the gap, tighten, measure again. In " + t.moveUnit() + "."},
		Tables: []sheet.Table{k},
	})
}

// readAgain has room for new readings, once the feet bear.
func (t *order) readAgain() {
	box := sheet.Cell{Write: []string{""}}
	k := sheet.Table{Form: "again", Head: []string{"coupling", "offset up and down", "angle up and down", "offset sideways", "angle sideways"}}
	dials := sheet.Table{Form: "dial again", Head: []string{"dial", "at 12", "at 3", "at 6", "at 9"}}
	for i := range t.t.Couplings {
		c := &t.t.Couplings[i]
		told := toShow(c)
		if len(told) == 0 {
			k.Rows = append(k.Rows, []sheet.Cell{{Text: t.coupling(i), Bold: true}, box, box, box, box})
		}
		for _, d := range told {
			if d.Kind == train.OffsetDial {
				k.Rows = append(k.Rows, []sheet.Cell{{Text: t.coupling(i) + ", x = " + t.station(d.X), Bold: true}, box, {}, box, {}})
				continue
			}
			dials.Rows = append(dials.Rows, []sheet.Cell{{Text: t.coupling(i) + ": " + t.dial(c, d)}, box, box, box, box})
		}
	}
	var tables []sheet.Table
	for _, k := range []sheet.Table{k, dials} {
		if k.Rows != nil {
			tables = append(tables, k)
		}
	}
	t.add(sheet.Block{
		Heading: "All bolts tight: read every coupling again", Fields: []string{"by", "time"}, Tables: tables,
		Text: []string{"How the second shaft stands against the first, cold and at standstill. Write these readings into the file and plan again."},
	})
	t.sign()
}

// stand is what every coupling should read where nothing is moved.
func (t *order) stand() {
	gates := t.plan.Gates()
	b := sheet.Block{
		Heading: "What couplings should read, cold and at standstill", Fields: []string{"by", "time"},
		Text:   []string{t.gateWords(gates), "Off by more: stop, plan from what they read."},
		Tables: t.every(t.staging.Before, showing{gates, true}),
	}
	if inBrackets(b.Tables) {
		b.Text[1] += " In brackets: not read there cold, worked out."
	}
	t.add(b)
	t.sign()
}

// after is tightening and what everything must read then.
func (t *order) after() {
	softest := with(t.moved(optimize.SoftFoot(t.units)), t.moveUnit())
	b := sheet.Block{Heading: "All stages done: tighten, and read everything again", Fields: []string{"by", "time"}, Ticks: []string{
		"Jack bolts off, shims home. Tighten crosswise, in steps, to the maker's torque, dials at the feet: a foot that moves by more than " + softest + " is soft: stop." + t.softStops(),
		"Bolts tight, nothing warm: read every coupling, and write it here. Off by more than ±: stop; leastmove verify says whether the limits hold.",
	}}
	last := t.staging.Stages[len(t.staging.Stages)-1]
	b.Tables = t.every(last.Rest, showing{gates: t.plan.Gates()})
	t.add(b)
	t.add(sheet.Block{Ticks: []string{"Dowels as the makers say. Shafts turn by hand. Couplings closed, guards on. Tags off by who put them on."}})
	t.sign()
}

// sign is where who did the work signs for it, and what the plan's sum is.
func (t *order) sign() {
	t.add(sheet.Block{
		Fields: []string{"Done by", "Checked by", "Time"},
		Text:   []string{fmt.Sprintf("Plan %s: so begins the SHA-256 of what leastmove plan --format json writes, with the same flags.", t.out.Plan)},
	})
}
