package pages

import (
	"strings"

	"leastmove/cmd/internal/view"
)

// voidWords head the sheet of such a plan.
const voidWords = "PROVISIONAL: the hold point below comes first. After it every coupling is read again and the " +
	"train is planned anew. The stages here were worked out from readings taken before: they show what the work is " +
	"for, and are not for use."

// hold is what is to be done and signed for before anything is moved, where a plan
// needs a relief.
func (t *order) hold() {
	r := t.plan.Relieved
	if r == nil {
		return
	}
	without := "Without this the moves are not possible. "
	if len(t.work.Stages) == 0 {
		without = "Without this the limits are not kept. "
	}
	t.out.Section("HOLD POINT: not without the engineer", "engineer", "time")
	t.out.Say(without + strings.Join(t.reliefCautions(r.Edits), " "))
	checks := []string{"Engineer has signed above."}
	if t.work.Void {
		checks = append(checks, "Lifting plan in hand; pipes supported or disconnected.")
	}
	for _, g := range view.Groups(r.Edits) {
		checks = append(checks, capital(t.edit(g))+".")
	}
	if t.work.Void {
		checks = append(checks,
			"After that: soft foot and pipe strain again, as above.",
			"All bolts tight: every coupling read again, here and in the file, and planned anew. Readings taken "+
				"before are void.")
	}
	t.out.Checks(checks)
	if t.work.Void {
		t.out.Tables(t.again())
	}
}

// verdict says whether to carry the plan out, as its page does; "" without one.
func (t *order) verdict() string {
	return (&planText{formatter: t.formatter, plan: t.plan}).verdictWords()
}

// notAdvised is what an engineer signs for before anything else, where the plan is not advised.
func (t *order) notAdvised() {
	if v := t.plan.Verdict; v == nil || v.Kind != view.NotAdvised {
		return
	}
	t.out.Section("HOLD: this plan is not advised", "engineer", "time")
	t.out.Say(t.verdict())
	t.out.Checks([]string{"Engineer knows the reason and the other plans (leastmove plan), and has signed above that " +
		"this one is carried out. Without that nothing below is done."})
}
