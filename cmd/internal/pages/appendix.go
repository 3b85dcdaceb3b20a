package pages

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// This file is for whoever checks the numbers: they have signs here, as in the
// train file and the JSON.

func (t *planText) signs() string {
	return fmt.Sprintf("Signs are those of the train file: + is up, left, toward the last machine, high, sloping up or "+
		"pointing left. Moves and offsets in %s, lengths in %s, angles in mrad.", t.MoveUnit(), t.LengthUnit())
}

// feetSigned are the moves with signs, and the motions of the machines that follow.
func (t *planText) feetSigned() {
	if t.plan.Moves == nil {
		return
	}
	t.Heading("Moves with signs")
	words := t.signs() + " x and y are the machine's own."
	if t.fillsAny() {
		words += " Pack then is pack now + up + what fills the gap under the foot; up is the move alone."
	}
	t.Say(words)
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("foot"), doc.Number("x"), doc.Number("y"), doc.Number("up"),
		doc.Number("left"), doc.Number("axial"), doc.Number("pack now"), doc.Number("pack then"),
		doc.Number("soft foot left"),
	}, Names: 2}
	for i := range t.plan.Moves {
		t.eachFoot(&g, i, func(f int) []string {
			move, change := t.plan.Moves[i][f], t.plan.Changes[i][f]
			return []string{string(t.Moved(move.Up)), string(t.Moved(move.Left)), string(t.Moved(move.Axial)),
				t.packOr(change.Now), t.packOr(change.Then),
				string(t.Offset(t.plan.Planned.Machines[i].Feet[f].Soft))}
		})
	}
	g.Caption = "Feet"
	t.Table(g)
	m := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Number("axial"), doc.Number("left"), doc.Number("up"),
		doc.Number("roll"), doc.Number("pitch"), doc.Number("yaw"),
	}}
	for i := range t.Train.Machines {
		q := t.plan.Planned.Machines[i].Motion
		m.Add(
			t.Machine(i), string(t.Offset(q[view.Axial])), string(t.Offset(q[view.Left])), string(t.Offset(q[view.Up])),
			string(t.Angle(q[view.Roll])), string(t.Angle(q[view.Pitch])), string(t.Angle(q[view.Yaw])),
		)
	}
	m.Caption = "Motion of each machine about the middle of its feet at the shim plane"
	t.Table(m)
}

// sums take every misalignment after the moves apart.
func (t *planText) sums() {
	t.Heading("Every misalignment as a sum")
	text := "As found in that condition, with its growth and journal shift."
	if t.plan.Moves != nil {
		text = "To first order: found + growth and journal shift + motion of the second shaft - motion of the first. " +
			"The last line but one is the same by true geometry, with rotations as they are: it is what the pages say."
	}
	t.Say(t.signs() + " " + text + " Use is the largest share of a limit.")
	conditions := len(t.Train.Conditions)
	for i := range t.Train.Couplings {
		c := &t.Train.Couplings[i]
		g := doc.Table{Columns: []doc.Column{
			doc.Wide("condition"), doc.Wide(""), doc.Number("v offset"), doc.Number("v angle"), doc.Number("h offset"),
			doc.Number("h angle"), doc.Number("shaft ends"), doc.Number("use"),
		}, Names: 2}
		row := func(condition, name string, m view.Misalignment, gap, use words.Number) { // "": as above
			g.Add(
				condition, name, string(t.Offset(m.V.Offset)), string(t.Angle(m.V.Angle)), string(t.Offset(m.H.Offset)),
				string(t.Angle(m.H.Angle)), string(gap), string(use),
			)
		}
		of := t.plan.Sums[i*conditions:]
		row("all", "found, as read", of[0].Found, t.Length(c.FoundGap), "")
		planned := t.plan.Planned.Couplings
		if planned != nil {
			row("", "motion of "+t.Shaft(c.To), of[0].To, "", "")
			row("", "motion of "+t.Shaft(c.From)+", to be taken off", of[0].From, "", "")
		}
		for k := range conditions {
			row(t.Condition(k), "growth, journal shift", of[k].Warmth, "", "")
			if planned != nil {
				row("", "sum", of[k].All, t.Length(of[k].Gap), "")
				r := &planned[i][k]
				row("", "after, true geometry", r.Misalignment, t.Length(r.Gap), words.Use(r.Worst()))
			}
			found := &t.plan.Found.Couplings[i][k]
			row("", "before, true geometry", found.Misalignment, t.Length(found.Gap), words.Use(found.Worst()))
		}
		g.Caption = t.against(i) + ", at x = " + t.Station(c.X)
		t.Table(g)
	}
}

// toCheck is a part for whoever checks the numbers one by one, which is not printed of a long train.
func (t *planText) toCheck(part []doc.Block) []doc.Block {
	const mostStates = 12 // of couplings, in all conditions, of which such a part is printed
	if len(t.Train.Couplings)*len(t.Train.Conditions) > mostStates {
		return notPrinted(part, "on the screen")
	}
	return part
}

// inputs are the numbers that were read, defaults among them.
func (t *planText) inputs() {
	t.Heading("What was read, with what the file left to be taken")
	t.Say(t.signs() + " Open: no limit stated.")
	m := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Fixed("at"), doc.Fixed("height"), doc.Fixed("1/min"),
		doc.Fixed("held"), doc.Fixed("may roll"), doc.Fixed("may shift"), doc.Fixed("effort"),
	}}
	for i := range t.Train.Machines {
		a := &t.Train.Machines[i]
		m.Add(
			t.Machine(i), t.Station(a.At), t.Station(a.Height), orOpen(words.Fixed(a.RPM, 0), "not stated"), yes(a.Hold),
			yes(a.Roll), yes(a.Axial), words.Fixed(a.Effort, 3).Short(),
		)
	}
	m.Caption = "Machines"
	t.Table(m)
	f := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("foot"), doc.Fixed("x"), doc.Fixed("y"),
		doc.Fixed("may come out"), doc.Fixed("may go in"), doc.Fixed("bolt"), doc.Fixed("hole"),
		doc.Fixed("bolt at"), doc.Fixed("travel left"), doc.Fixed("right"),
	}, Names: 2}
	for i := range t.Train.Machines {
		t.eachFoot(&f, i, func(n int) []string { return t.footInputs(&t.Train.Machines[i].Feet[n]) })
	}
	if len(f.Rows) > 0 {
		f.Caption = "Feet"
		t.Table(f)
	}
	t.couplingInputs()
}

// eachFoot adds a row for every foot of a machine: its name and place, and what is said of it; for a pair of which the
// same is said one.
func (s formatter) eachFoot(g *doc.Table, machine int, said func(foot int) []string) {
	feet := s.Train.Machines[machine].Feet
	for n := 0; n < len(feet); n++ {
		name, y, row := s.Foot(machine, n), s.Station(feet[n].Y), said(n)
		if n+1 < len(feet) {
			if pair, is := s.Pair(machine, n, n+1); is && slices.Equal(row, said(n+1)) {
				name, y = pair+", both", "± "+y
				n++
			}
		}
		g.Add(append([]string{s.Machine(machine), name, s.Station(feet[n].X), y}, row...)...)
	}
}

// footInputs are what was read of a foot besides its place.
func (t *planText) footInputs(f *view.Foot) []string {
	at := orOpen(t.Length(f.BoltAt[0]), "") + ", " + orOpen(t.Length(f.BoltAt[1]), "")
	if math.IsNaN(f.Hole) {
		at = ""
	}
	return []string{
		t.packOr(f.Lower), t.packOr(f.Raise), orOpen(t.Length(f.Bolt), open), orOpen(t.Length(f.Hole), open), at,
		orOpen(t.Offset(f.TravelLeft), open), orOpen(t.Offset(f.TravelRight), open),
	}
}

func (t *planText) couplingInputs() {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("coupling"), doc.Fixed("1/min"), doc.Fixed("x"), doc.Wide("flex planes"),
		doc.Fixed("offset limit"), doc.Fixed("angle limit"), doc.Fixed("shaft ends limit"),
		doc.Fixed("each plane"), doc.Fixed("taken: growth"), doc.Fixed("shift"),
	}}
	for i := range t.Train.Couplings {
		c := &t.Train.Couplings[i]
		flex := "none"
		if c.Spacer {
			flex = t.Station(c.Flex[0]) + ", " + t.Station(c.Flex[1])
		}
		g.Add(
			t.Coupling(i), orOpen(words.Fixed(c.RPM, 0), "not stated"), t.Station(c.X), flex,
			orOpen(t.Offset(c.Limit.Offset), open), orOpen(t.Angle(c.Limit.Angle), open),
			orOpen(t.Length(c.Limit.Gap), open), yes(c.Limit.EachPlane), exactly(c.Taken.Growth), exactly(c.Taken.Run),
		)
	}
	g.Caption = "Couplings"
	t.Table(g)
}

func orOpen(n words.Number, none string) string {
	if n == "" {
		return none
	}
	return n.Short()
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

// proof says what was proven and how that can be checked.
func (t *planText) proof() {
	p := t.plan
	t.Heading("What was proven")
	t.Say(fmt.Sprintf("The search solved %s. Its bounds were verified by a second part of the program, which trusts "+
		"nothing of the search: it goes through every branch of the search, works out each bound anew from multipliers "+
		"of the limits, with all rounding counted or in exact fractions, and takes no proof that leaves out a setting "+
		"of the feet.", words.Plural(p.Solves, "problem")+" without whole steps"))
	if b := t.Bound(p.Bound); b != "" && !b.Zero() && p.Moves != nil {
		t.Say(fmt.Sprintf("Verified: no plan within %s of the limits%s has a smaller total than %s.",
			provenFor(t.plan.KeptShare), t.alike(), words.With(b, t.MoveUnit())))
	}
	g := doc.Table{Columns: []doc.Column{doc.Wide("limit"), doc.Number("value"), doc.Number("limit"),
		doc.Number("multiplier")}}
	for _, w := range p.ShadowPrices {
		if math.IsNaN(w.Price) {
			continue
		}
		name := t.limit(w.Limit)
		g.Add(name, string(t.Limit(w.Kind, w.Value)), t.withUnit(w.Kind, w.Bound), string(t.LimitPrice(w.Kind, w.Price)))
	}
	if len(g.Rows) > 0 {
		t.Say("Multipliers of the limits at the optimum without whole steps: what the total falls by for each unit that " +
			"a limit is wider, near the plan.")
		g.Caption = fmt.Sprintf("Multipliers, in %s for each unit of the limit", t.MoveUnit())
		t.Table(g)
	}
	t.Say("The branches themselves are not printed: the same file gives the same search and the same proof again. " +
		"leastmove plan FILE --format json has the numbers of this page for a program.")
}
