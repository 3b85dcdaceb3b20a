package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// assured says what came of a chance that was asked for.
func (t *planText) assured() {
	p, a := t.plan, t.plan.ChanceConstraint
	if a == nil {
		return
	}
	asked := string(words.Fixed(100*a.Asked, 3).Short()) + " %"
	reached := fmt.Sprintf("%s (%d simulated jobs, good to ±%s %%)", chance(p.Probability.Within),
		p.Probability.Draws, words.Ceil(100*p.Probability.Error, 2))
	if !a.Reached {
		none := "That no plan has it was not proven."
		if a.None {
			none = "No plan has it (proven)."
		}
		t.Say(fmt.Sprintf("NOT REACHED: a chance of %s of ending within limits was asked for. %s The highest that was "+
			"found is %s, with a plan that moves %d of %s, total %s, largest move %s.",
			asked, none, reached, p.Moved, t.Count(),
			words.With(t.Total(p.Plain), t.MoveUnit()), words.With(t.Moved(p.Largest), t.MoveUnit())))
		return
	}
	if v := p.Verdict; math.IsNaN(a.Without) && v != nil && v.Reason == view.ChanceKept && v.Wanted == a.Asked {
		return // the verdict says it
	}
	t.Say(fmt.Sprintf("A chance of %s of ending within limits was asked for; this plan has %s.", asked, reached))
	if math.IsNaN(a.Without) {
		return
	}
	more := "That takes no more movement than"
	if extra := p.Extra; !t.Total(math.Max(0, extra)).Zero() && extra > 0 {
		more = "That takes " + words.With(t.Total(extra), t.MoveUnit()) + " more movement than"
		if t.weighted() {
			more = "With the file's weights that takes " + words.With(t.Total(extra), t.MoveUnit()) + " more movement than"
		}
	}
	t.Say(fmt.Sprintf("%s the plan that may use all of every limit (%s), whose chance is %s.%s",
		more, words.With(t.Total(a.Without), t.MoveUnit()), chance(a.WithoutProbability), heldShort(a)))
}

// heldShort says by how much the limits were held short; "" where they were not.
func heldShort(a *view.ChanceConstraint) string {
	switch {
	case a.Most == 0:
		return ""
	case a.BackOff == 0:
		return fmt.Sprintf(" Every coupling limit was held short by %s.", words.Percent(a.Most))
	}
	by := words.Percent(a.Most)
	if least := words.Percent(a.Least); least != by {
		by = least + " to " + by
	}
	return fmt.Sprintf(" Every coupling limit was held short by about %s standard deviations of its own errors, "+
		"which is %s of it.", words.Fixed(a.BackOff, 2), by)
}

// assuredBound says what is proven of the total of a plan with a chance.
func (t *planText) assuredBound() {
	p, a := t.plan, t.plan.ChanceConstraint
	asked := string(words.Fixed(100*a.Asked, 3).Short()) + " %"
	bound := t.Bound(p.Bound)
	switch {
	case bound == "" || bound.Zero():
		t.Say("How small the total could be was not proven.")
	case a.Reached && words.Ceil(100*p.Gap, 1).Zero():
		t.Say(t.under(fmt.Sprintf("No plan with a chance of %s has a smaller total than %s (proven); it is the smallest.",
			asked, words.With(bound, t.MoveUnit()))))
	case a.Reached:
		t.Say(t.under(fmt.Sprintf("No plan with a chance of %s has a smaller total than %s (proven); %s. "+
			"It is the least of those that were looked at, with limits held short alike; that none moves less "+
			"was not proven.",
			asked, words.With(bound, t.MoveUnit()), leastLower(words.Ceil(100*p.Gap, 1)))))
	default:
		t.Say(t.under(fmt.Sprintf("No plan within the limits%s has a smaller total than %s (proven).", ofWhatever(a),
			words.With(bound, t.MoveUnit()))))
	}
}

func ofWhatever(a *view.ChanceConstraint) string {
	if a.None {
		return ", whatever its chance,"
	}
	return " and with that chance"
}
