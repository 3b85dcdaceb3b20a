package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A verified is the page of what was read after the moves.
type verified struct {
	page
	formatter
	r *view.Verified
}

func verifiedOf(r *view.Verified) *verified { return &verified{formatter: formatterOf(r.Train), r: r} }

// answer says whether limits are met, and whether the moves were made as planned.
func (v *verified) answer() {
	outside := v.r.Outside()
	n := len(v.Train.Couplings)
	text := fmt.Sprintf("The limits are met: as read after the moves, every coupling is within them %s; the worst "+
		"uses %s.", v.Conditions(), words.Percent(v.r.Worst()))
	if !v.r.Met() {
		verb := "are"
		if outside == 1 {
			verb = "is"
		}
		where := ""
		if len(v.Train.Conditions) > 1 {
			where = " in one condition or more"
		}
		text = fmt.Sprintf("THE LIMITS ARE NOT MET: as read after the moves, %d of %s %s outside them%s; the worst uses %s.",
			outside, words.Plural(n, "coupling"), verb, where, words.Percent(v.r.Worst()))
	}
	if v.r.ReadAgain() != nil {
		v.Say("READ AGAIN FIRST: some readings do not agree with each other, and all that follows goes by them.")
	}
	v.Say(text)
	switch {
	case !v.r.Verdict.Off:
		v.Say("The moves went as planned, as far as errors of placing and reading let the couplings tell. A rigid case " +
			"can hang over a pack that was missed: measure the soft foot of every foot that was moved.")
	case len(v.r.Verdict.Suspects) == 0:
		v.Say("Something did not go as planned: what was read is further off the plan than errors explain, and no " +
			"single fault explains it either.")
	default:
		words := "Something did not go as planned; most likely: " + v.places(v.r.Verdict.Suspects)
		if !v.r.Verdict.Enough {
			words += ", but that alone does not explain it"
		}
		v.Say(words + ".")
	}
	if v.r.AimMissed() {
		v.Say(fmt.Sprintf("The aim of %s of the limits is not reached; that by itself asks for no further move.",
			words.Percent(v.Train.Aim.Use)))
	}
	if soft := softest(v.formatter, v.r.Remaining); soft != "" {
		v.Say(soft + " What was read after the moves is PROVISIONAL, and so is what is said of it here.")
	}
	if v.r.Packs == view.PacksOld && !v.packsStay() {
		v.Say("NOTE: the packs in the train file are those from before the moves. State what lies under the feet now: " +
			"the room that the feet have is reckoned from it.")
	}
	if len(v.r.UsedUp) > 0 && !v.r.Met() {
		v.Say("NOTE: some of the train file is as before the plan: see the list in what to do now before " +
			"anything is moved.")
	}
}

// packsStay says whether the diagnosis is that no packs were changed: those of the train file then are what lies there.
func (v *verified) packsStay() bool {
	return slices.ContainsFunc(v.r.Verdict.Suspects, func(s view.Suspect) bool { return s.Cause == view.NoneMade })
}

// remaining is the plan from here, where limits are not met.
func (v *verified) remaining() {
	p, again := v.r.Remaining, v.r.ReadAgain()
	if v.r.Met() && again == nil {
		return
	}
	t := &planText{formatter: formatterFor(p), plan: p}
	t.Isolated = v.Isolated
	v.Mark = marks(p)
	defer func() { v.Mark = "" }()
	v.Heading("What to do now")
	if again != nil {
		v.Say("Read this again, put it into the train file and run verify again, before anything is moved or started:")
		for _, k := range again {
			v.Item(words.Capital(words.Clean(k.Message)) + "; " + words.Clean(k.Hint) + ".")
		}
		if v.r.Met() {
			return
		}
		v.Say("What follows holds only if those readings do.")
	}
	v.Say("Do not start the train: locks and tags stay on until the limits are met.")
	if v.r.Packs == view.PacksOld && !v.packsStay() {
		v.Say("Reckoned from packs of before the moves: state those of now, and plan again.")
	}
	if used := v.usedUp(); len(used) > 0 {
		v.Say("BEFORE ANYTHING IS MOVED: some of the train file is as before the plan, and what follows counts on it. Put " +
			"right what is not so any more, and run verify again:")
		v.Items(used...)
	}
	if bolts := v.boltsInDoubt(); bolts != "" {
		v.Say("BEFORE ANYTHING IS MOVED: " + bolts)
	}
	if suspects := v.r.Verdict.Suspects; len(suspects) > 0 {
		v.Say("Look here. Where a move was missed, make that one:")
		for n := range suspects[:min(len(suspects), mostSuspects)] {
			s := &suspects[n]
			v.Item(words.Capital(v.place(&s.Fault)) + ": " + v.happened(&s.Fault) + "." + v.undo(s))
		}
		if again := v.again(); again != "" {
			v.Item("Read " + again + " again, and run verify again: where the limits are met then, nothing else needs to move.")
		}
		v.Say("Only where that was not it, or not enough:")
	}
	switch p.Status {
	case view.Planned:
		v.Say(fmt.Sprintf("From where the train is now: move %d of %s; total movement %s, largest move at a foot %s; "+
			"every coupling ends within %s of its limits %s.",
			p.Moved, t.Count(), words.With(t.Total(p.Plain), t.MoveUnit()),
			words.With(t.Moved(p.Largest), t.MoveUnit()), words.Percent(p.Reached), t.Conditions()))
		v.Say(t.Sides())
		v.Table(t.moveTable(v.r.PackInDoubt))
		v.Says(t.gapsFilled())
	case view.Impossible:
		v.Say("From where the train is now no plan exists (proven). What is in conflict:")
		for _, g := range t.conflictGroups() {
			v.Item(t.atOdds(g.member.Limit, g.feet))
		}
	default:
		v.Say("From where the train is now no plan was found, and it was not proven that there is none.")
	}
	v.Space()
	v.Say("leastmove plan, with the train file of after the moves, says all of it.")
}

// again names the couplings that are further off the plan than errors make; "" where none is.
func (v *verified) again() string {
	var names []string
	for _, o := range v.r.OffPlan() {
		if name := v.Coupling(o.Coupling); o.More && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return words.And(names)
}

// unmeasured stands in place of a pack that may not be what the train file has.
const unmeasured = "measure the pack first"

// moveTable is what is to be done, foot by foot, in one table. A pack in doubt has no figure.
func (t *planText) moveTable(inDoubt func(machine, foot int) bool) doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("foot"), doc.Fixed("shims"), doc.Wide("shim pack"),
		doc.Wide("sideways"),
	}, Names: 2}
	for i, feet := range t.plan.Moves {
		if !t.plan.Moves.Moved(i) {
			continue
		}
		if !t.Moved(feet[0].Axial).Zero() {
			g.Add(append([]string{t.Machine(i), t.Along(feet[0].Axial)}, make([]string, len(g.Columns)-2)...)...)
		}
		for f, move := range feet {
			change := t.PackChange(i, f, move)
			pack := t.Pack(change)
			switch {
			case inDoubt(i, f):
				pack = unmeasured
			case t.Moved(change.By()).Zero() && t.Moved(move.Left).Zero():
				continue
			}
			g.Add(t.Machine(i), t.Foot(i, f), t.Shim(change.By()), pack, t.sited(t.Side(move.Left), move.Left))
		}
	}
	return g
}
