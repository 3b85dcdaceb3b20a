package pages

import (
	"fmt"

	"leastmove/cmd/internal/words"
)

// first is what a crew looks at before it does anything else. Where a line has no
// source it is common practice.
func (t *order) first() {
	softest := words.With(t.Moved(t.work.SoftFoot), t.MoveUnit())
	known := ""
	if !t.plan.Provisional {
		known = t.softKnown()
	}
	heading, checks := "Before anything is read", []string{
		"Locked out, tagged out, tried; heat and pressure let off. Guards, lifting, torque: site rules, makers' " +
			"manuals first.",
		"Couplings open, and they stay open. Before shafts are turned, each time: lube or jacking oil on, people clear " +
			"and counted, one gives the word; both shafts turned together; bar out before hands go in.",
	}
	if t.plan.Provisional || len(t.work.Stages) > 0 {
		heading = "Before anything is moved"
		checks = append(checks,
			"Machine in hand, and no other: dowels out, its weight on its feet, pipe hangers set. Jack bolts (to push "+
				"sideways) clear.",
			"Then soft foot: one bolt loose at a time, a dial on the foot. Over "+softest+t.softFirst()+": stop, put it right, "+
				"read again."+known+" All flat, clean.",
			"Then pipe strain: dials up and sideways at its couplings; slacken ONE bolt at a time. Over the site's limit: "+
				"stop, retighten.")
	}
	if !t.plan.Provisional && len(t.work.Stages) > 0 {
		checks = append(checks, "Dials at each foot of the machine in hand, one up, one sideways, in mid-travel: zeroed "+
			"in every stage with bolts tight, before they are slackened; at other feet they stay at zero. It sits on all "+
			"its packs at once: a dial may differ a little from its own shims. Write the side shift down before side "+
			"dials are zeroed again: it comes off the side move; where none follows, push it back.")
	}
	t.section(heading)
	t.out.Checks(checks)
}

// readFirst is what every coupling should read before the first stage.
func (t *order) readFirst() {
	if t.work.Void {
		t.out.Section("Couplings, cold and at standstill")
		t.out.Say(t.travels())
		if none := t.noneInHand(); none != "" {
			t.out.Say(none)
		}
		return
	}
	t.section("Read every coupling, cold and at standstill")
	tables := t.every(t.work.Before, showing{gates: true, found: true})
	t.out.Say(t.travels() + inBrackets(tables))
	t.out.Checks([]string{t.gateWords() + " If not, or if readings differ: stop, plan again."})
	t.out.Tables(tables)
}

// travels says how far the dials at couplings go, and what the order is.
func (t *order) travels() string {
	text := ""
	if !t.work.InOrder {
		text = "The order of the stages is not that of the train: it spares the dials their ends. "
	}
	if w := t.work.Largest; w.Travel > 0 {
		swing, travel := words.With(t.Moved(w.Swing), t.MoveUnit()), words.With(t.Moved(w.Travel), t.MoveUnit())
		if w.Dial < 0 { // the file names none there
			text += fmt.Sprintf("A rim dial at %s would swing by %s (travel: %s). ", t.quoted(w.Coupling), swing, travel)
		} else {
			text += fmt.Sprintf("Dials at couplings swing by %s at most, at %s (travel counted on: %s). ", swing,
				t.quoted(w.Coupling), travel)
		}
	}
	if t.work.Dialled {
		text += fmt.Sprintf("They are zeroed at 12, both shafts turned together; plus is plunger in if not said, sag is "+
			"counted; 3 is on the right, seen from %s to %s. ", t.Machine(0), t.Machine(t.Last()))
	}
	text += t.offsetsAt()
	if t.work.Ends {
		text += " Shaft ends: every rotor against its active thrust face, a motor's at its magnetic centre."
	}
	return text
}

// offsetsAt says where offsets are given, and where stations are counted from.
func (t *order) offsetsAt() string {
	var at []string
	for i := range t.Train.Couplings {
		at = append(at, fmt.Sprintf("%s (%s)", t.Station(t.Train.Couplings[i].X), t.quoted(i)))
	}
	m := &t.Train.Machines[0]
	return fmt.Sprintf("Offsets are at x = %s; x in %s toward %s, %s %s at %s.",
		words.And(at), t.LengthUnit(), t.Machine(t.Last()), t.Machine(0), t.footSpot(0, 0), t.Station(m.At+m.Feet[0].X))
}

// footSpot is a foot's name, or that of the pair that it is of.
func (t *order) footSpot(m, f int) string {
	if f+1 < len(t.Train.Machines[m].Feet) {
		if table, pair := t.Pair(m, f, f+1); pair {
			return table
		}
	}
	return t.Foot(m, f)
}
