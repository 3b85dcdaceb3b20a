package pages

import (
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// hold is what is to be done and signed for where a plan depends on an option. The sheet ends there:
// what comes after it needs a train file that has what was done.
func (t *order) hold() {
	r := t.plan.Relieved
	box := &doc.Hold{Heading: "HOLD POINT: not without the engineer", Blanks: []string{"Engineer", "Time"}}
	box.Blocks = append(box.Blocks, doc.Paragraph{Words: "There is no plan within the limits of the train file. What " +
		"follows makes one possible. " + strings.Join(t.optionCautions(r.Edits), " ")})
	checks := &doc.List{Kind: doc.Checks}
	check := func(words string) { checks.Items = append(checks.Items, []string{words}) }
	if t.work.Void {
		check("Lifting as the site has agreed it; pipes supported or disconnected.")
	}
	for _, g := range view.Groups(r.Edits) {
		check(words.Capital(t.edit(g)) + ".")
	}
	end := "The engineer has it written into the train file, plans from that, and prints the sheet of that plan: this " +
		"one has no moves."
	if t.work.Void {
		check("After that: soft foot and pipe strain again, as above.")
		check("All bolts tight: every coupling read again, below. Readings taken before are void.")
		end = "The engineer has it and the new readings written into the train file, plans from that, and prints the " +
			"sheet of that plan: this one has no moves."
	}
	box.Blocks = append(box.Blocks, checks, doc.Paragraph{Words: end})
	t.first()
	t.out.Section("")
	t.out.Put(box)
	if t.work.Void {
		t.readAgain()
	}
}

// verdict says whether to carry the plan out, as its page does; "" without one.
func (t *order) verdict() string {
	return (&planText{formatter: t.formatter, plan: t.plan}).verdictWords()
}

// state is what each page of the sheet says of the plan; "" where it is to be carried out.
func (t *order) state() string {
	switch {
	case t.plan.Provisional:
		return "PROVISIONAL"
	case t.plan.Relieved != nil:
		return "HOLD POINT"
	case t.plan.Verdict == nil || t.plan.Verdict.Kind == view.CarryOut:
		return ""
	}
	return strings.ToUpper(verdictName(t.plan.Verdict.Kind))
}

// heldBy is the verdict that holds a plan until the engineer has decided; nil where none does.
func heldBy(p *view.Plan) *view.PlanVerdict {
	if v := p.Verdict; v != nil && (v.Kind == view.NotAdvised || v.Kind == view.Marginal) {
		return v
	}
	return nil
}

// HeldByVerdict says whether the work order of a plan ends at a hold box until the engineer has decided.
func HeldByVerdict(p *view.Plan) bool {
	return heldBy(p) != nil && !p.Provisional && p.Relieved == nil && len(view.Order(p).Stages) > 0
}

// Releasing is what it means to have the stages of such a work order printed.
const Releasing = "the engineer has decided to carry out a plan that is marginal or not advised: print its stages"

// holdBox is what the engineer ticks off and signs for where a verdict holds the plan.
func (t *order) holdBox(v *view.PlanVerdict, checks ...string) {
	heading := "HOLD: this plan is not advised"
	if v.Kind == view.Marginal {
		heading = "HOLD: this plan is marginal"
	}
	ticked := &doc.List{Kind: doc.Checks}
	for _, check := range checks {
		ticked.Items = append(ticked.Items, []string{check})
	}
	t.out.Put(&doc.Hold{Heading: heading, Blanks: []string{"Engineer", "Time"},
		Blocks: []doc.Block{doc.Paragraph{Words: t.verdict()}, ticked}})
}

// undecided is a sheet that ends at the hold box: what the crew must not use is not on it.
func (t *order) undecided(v *view.PlanVerdict) {
	t.out.Say("NOTHING IS TO BE MOVED YET: the engineer decides first. This sheet has no moves and no stages.")
	t.holdBox(v, "Another plan: leastmove plan names them, each with its flags, which leastmove sheet takes too.",
		"This plan all the same: the engineer signs here, and has the sheet printed with --released.")
}

// released is the hold box over the stages of a plan that the engineer has released all the same.
func (t *order) released() {
	if v := heldBy(t.plan); v != nil {
		t.holdBox(v, "Engineer knows the reason and the other plans (leastmove plan), and has signed here that this one is "+
			"carried out. Without that nothing below is done.")
	}
}
