package report

import (
	"fmt"
	"math"

	"leastmove/optimize"
)

// assured says what came of a chance that was asked for.
func (t *planText) assured() {
	p, a := t.plan, t.plan.Assurance
	if a == nil {
		return
	}
	asked := string(fixed(100*a.Asked, 3).short()) + " %"
	reached := fmt.Sprintf("%s (%d fresh draws, standard error %s %%)", chance(p.Sure.Within), p.Sure.Draws, ceil(100*p.Sure.Error, 2))
	if !a.Reached {
		words := "That no plan has it was not proven."
		if a.None {
			words = "No plan has it (proven)."
		}
		t.paragraph("", fmt.Sprintf("NOT REACHED: a chance of %s of ending within limits was asked for. %s The highest that was found is %s, with this plan. What would help: better measurements, see the chance below; less error of placing and growth; wider limits.",
			asked, words, reached))
		return
	}
	t.paragraph("", fmt.Sprintf("A chance of %s of ending within limits was asked for; this plan has %s.", asked, reached))
	more := "That takes no more movement than"
	if extra := p.Total - a.Without; !t.total(math.Max(0, extra)).zero() && extra > 0 {
		more = "That takes " + with(t.total(extra), t.moveUnit()) + " more movement than"
		if t.weighted() {
			more = "With the file's weights that takes " + with(t.total(extra), t.moveUnit()) + " more movement than"
		}
	}
	t.paragraph("", fmt.Sprintf("%s the plan that may use all of every limit (%s), whose chance is %s.%s",
		more, with(t.total(a.Without), t.moveUnit()), chance(a.WithoutChance), heldShort(a)))
}

// heldShort says by how much the limits were held short; "" where they were not.
func heldShort(a *optimize.Assurance) string {
	switch {
	case a.Most == 0:
		return ""
	case a.Margin == 0:
		return fmt.Sprintf(" Every coupling limit was held short by %s.", percent(a.Most))
	}
	by := percent(a.Most)
	if least := percent(a.Least); least != by {
		by = least + " to " + by
	}
	return fmt.Sprintf(" Every coupling limit was held short by about %s standard deviations of its own errors, which is %s of it.", fixed(a.Margin, 2), by)
}

// assuredBound says what is proven of the total of a plan with a chance.
func (t *planText) assuredBound() {
	p, a := t.plan, t.plan.Assurance
	asked := string(fixed(100*a.Asked, 3).short()) + " %"
	bound := t.bound(p.Bound)
	switch {
	case bound == "" || bound.zero():
		t.paragraph("", "How small the total could be was not proven.")
	case a.Reached && ceil(100*gapOf(p), 1).zero():
		t.paragraph("", t.under(fmt.Sprintf("No plan with a chance of %s has a smaller total than %s (proven); it is the smallest.", asked, with(bound, t.moveUnit()))))
	case a.Reached:
		t.paragraph("", t.under(fmt.Sprintf("No plan with a chance of %s has a smaller total than %s (proven); this one is within %s %%. It is the least of those that were looked at, with limits held short alike; that none moves less was not proven.",
			asked, with(bound, t.moveUnit()), ceil(100*gapOf(p), 1))))
	default:
		t.paragraph("", t.under(fmt.Sprintf("No plan within the limits%s has a smaller total than %s (proven).", ofWhatever(a), with(bound, t.moveUnit()))))
	}
}

func ofWhatever(a *optimize.Assurance) string {
	if a.None {
		return ", whatever its chance,"
	}
	return " and with that chance"
}

type assuranceDoc struct {
	Asked   number     `json:"asked"`   // share
	Reached bool       `json:"reached"` // by the draws of "chance"
	None    bool       `json:"none"`    // proven: no plan has it
	Margin  number     `json:"margin"`  // standard deviations by which limits were held short
	Most    number     `json:"most"`    // share that this shortens a limit by, the largest
	Least   number     `json:"least"`   // the smallest
	Extra   number     `json:"extra"`   // moves beyond without.total
	Without withoutDoc `json:"without"`
}

// The plan that may use all of every limit.
type withoutDoc struct {
	Total  number `json:"total"`  // moves
	Within number `json:"within"` // share of draws; rounded down
}

// assuranceDoc is nil where no chance was asked for.
func (s speaker) assuranceDoc(p *optimize.Plan) *assuranceDoc {
	a := p.Assurance
	if a == nil {
		return nil
	}
	return &assuranceDoc{
		Asked: fixed(a.Asked, 6), Reached: a.Reached, None: a.None, Margin: fixed(a.Margin, 3),
		Most: ceil(a.Most, 3), Least: floor(a.Least, 3), Extra: s.total(math.Max(0, p.Total-a.Without)),
		Without: withoutDoc{s.total(a.Without), floor(a.WithoutChance, 4)},
	}
}
