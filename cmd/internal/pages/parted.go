package pages

import (
	"fmt"

	"leastmove/cmd/internal/words"
)

// parted says of a conflict between one coupling's limits in two conditions what no move
// changes: how far growth and journal shift take it from one to the other. "" for
// other conflicts.
func (t *planText) parted() string {
	p := t.plan.Parting
	if p == nil {
		return ""
	}
	a, b := t.plan.Conflict[0].Limit, t.plan.Conflict[1].Limit
	return fmt.Sprintf("No move changes this: growth and journal shift alone put %s between the %s of %s in %s and "+
		"in %s (what is wanted counted), and the two limits together allow %s.",
		t.withUnit(a.Kind, p.By), words.LimitName(a.Kind), t.Coupling(a.Coupling), t.Condition(a.Condition),
		t.Condition(b.Condition), t.withUnit(a.Kind, p.Allow))
}
