package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

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

// readFirst is what every coupling should read before the first stage.
func (t *order) readFirst() {
	t.before("Read every coupling, cold and at standstill", func() {
		t.out.Checks([]string{"Read twice: as in bold, within ±" + t.repeatedAlike() + "? Else stop, plan again."})
	})
}

// before is a section of what every coupling should read before any move, and what is to be done where it does not.
func (t *order) before(heading string, otherwise func()) {
	t.section(heading)
	tables := t.every(t.work.Before, asFound)
	t.out.Say(t.signs() + " " + t.travels() + inBrackets(tables))
	t.margin()
	otherwise()
	t.out.Tables(tables)
}

// margin says where the limits leave none.
func (t *order) margin() {
	if t.work.Tight != nil {
		t.out.Say(t.noMargin(t.work.Tight))
	}
}

// travels says how far the dials at couplings go, and what the order is.
func (t *order) travels() string {
	text := ""
	if !t.work.InOrder {
		text = "The order of the stages is not that of the train: it spares the dials their ends. "
	}
	if w := t.work.Largest; w.Swing > w.Travel/2 { // else any dial set in mid-travel goes far enough
		swing, travel := words.With(t.Moved(w.Swing), t.MoveUnit()), words.With(t.Moved(w.Travel), t.MoveUnit())
		if w.Dial < 0 { // the file names none there
			text += fmt.Sprintf("A rim dial at %s would swing by %s (travel: %s). ", t.quoted(w.Coupling), swing, travel)
		} else {
			text += fmt.Sprintf("Dials at couplings swing by %s at most, at %s (travel counted on: %s). ", swing,
				t.quoted(w.Coupling), travel)
		}
	}
	if t.work.Dialled {
		text += fmt.Sprintf("Dials are zeroed at 12, both shafts turned together; plus is plunger in if not said, sag is "+
			"counted%s; 3 is on the right, seen from %s to %s. ", t.sagsAlike(false), t.Machine(0), t.Machine(t.Last()))
	}
	text += t.offsetsAt()
	if t.work.Ends {
		text += " Shaft ends: every rotor against its active thrust face, a motor's at its magnetic centre."
	}
	return text
}

// sagsAlike says in brackets what the brackets of all dials of a kind sag by at 6; "" where none are alike. Where
// offset and angle are worked out of such dials, zero is said too.
func (t *order) sagsAlike(worked bool) string {
	var all []string
	for _, kind := range []view.DialKind{view.RimDial, view.FaceDial} {
		sag := t.sagOf(kind)
		if worked && sag != "" && t.worksOutOf(kind) || !worked && strings.Trim(sag, "-0.") != "" {
			all = append(all, fmt.Sprintf("%s %s", kind, sag))
		}
	}
	if all == nil {
		return ""
	}
	return fmt.Sprintf(" (at 6: %s)", words.And(all))
}

// offsetsAt says where the offsets are that no instrument of the file gives, and where stations are counted from.
func (t *order) offsetsAt() string {
	var at []string
	for i := range t.Train.Couplings {
		if len(t.work.Couplings[i].Instruments) == 0 {
			at = append(at, fmt.Sprintf("%s (%s)", t.Station(t.Train.Couplings[i].X), t.quoted(i)))
		}
	}
	text := "x counts"
	if at != nil {
		text = fmt.Sprintf("Offsets are at x = %s; x", words.And(at))
	}
	m := &t.Train.Machines[0]
	return fmt.Sprintf("%s in %s toward %s, %s %s at %s.",
		text, t.LengthUnit(), t.Machine(t.Last()), t.Machine(0), t.footSpot(0, 0), t.Station(m.At+m.Feet[0].X))
}

// stand is what every coupling should read where nothing is moved.
func (t *order) stand() {
	t.before("What couplings should read, cold and at standstill", func() {
		t.out.Say("Off by more than ±" + t.repeatedAlike() + ": stop, plan from what they read.")
	})
	t.out.Section("")
	t.out.ShortChecks(closing())
}

// after is tightening and what everything must read then.
func (t *order) after() {
	softest := words.With(t.Moved(t.work.SoftFoot), t.MoveUnit())
	t.section("All stages done: tighten, and read everything again")
	t.margin()
	t.out.Checks([]string{
		"Shims home. Tighten crosswise, in steps, to the maker's torque, dials at the feet: a foot that moves by " +
			"more than " + softest + t.softStops() + " is soft: stop. Only then jack bolts off.",
		"Nothing warm: read every coupling. Off by more than ±: stop; leastmove verify says if limits hold.",
	})
	if working := t.workingWords(); working != "" {
		t.out.Say(working)
	}
	last := t.work.Stages[len(t.work.Stages)-1]
	t.out.Tables(t.every(last.Rest, accepted))
	if t.engineers() != nil {
		t.out.Section("", "Engineer", "Time")
		t.out.Checks([]string{"* The limits leave less room here than readings can tell (±): the engineer decides on " +
			"these readings (leastmove verify) before couplings are closed, and signs here."})
	}
	t.out.Section("")
	t.out.ShortChecks(append([]string{"Pipe strain once more.", "Dowels as the makers say."}, closing()...))
}

// closing is what is ticked off before the train is let go.
func closing() []string {
	return []string{
		"Dials, brackets, bars off, counted.", "Shafts turn by hand.",
		"Coupling bolts to torque, match marks in line.",
		"Guards on.", "Tags off last, by their owners.",
	}
}

// sign is where who did the work signs for it.
func (t *order) sign() { t.out.Section("", "Done by", "Checked by", "Time") }
