package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// parted says of one coupling's limits in two conditions what no move changes: how far growth and journal shift take
// it from one to the other, and of which others the same holds. "" where growth parts none.
func (t *planText) parted() string {
	p := t.plan.Parting
	if p == nil {
		return ""
	}
	a, b := t.Condition(p.Conditions[0]), t.Condition(p.Conditions[1])
	said := fmt.Sprintf("No move changes this: growth and journal shift alone put %s between the %s of %s in %s and "+
		"in %s (what is wanted counted), and the two limits together allow %s.",
		t.withUnit(p.Kind, p.By), words.LimitName(p.Kind), t.Coupling(p.Coupling), a, b, t.withUnit(p.Kind, p.Allow))
	if p.Kind == view.LimitSum {
		said = fmt.Sprintf("No move changes this: between %s and %s growth and journal shift alone come to %s of the "+
			"limits of %s, added up (what is wanted counted), and the two together allow %s.",
			a, b, words.Percent(p.By), t.Coupling(p.Coupling), words.Percent(p.Allow))
	}
	if len(p.Others) == 0 {
		return said
	}
	var others []string
	for _, i := range p.Others {
		others = append(others, t.Coupling(i))
	}
	return said + " Growth alone is too much for the limits of " + words.And(others) + " too."
}
