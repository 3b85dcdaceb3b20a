package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// ends says what keeps the plan from being smaller.
func (t *planText) ends() {
	t.Heading("What limits the plan")
	if len(t.plan.Active) == 0 {
		t.Say("No limit stands at its end: whole steps of shims and dials decide.")
		return
	}
	var items []string
	for _, e := range t.plan.Ends {
		items = append(items, t.end(t.plan, e))
	}
	t.Items(items...)
}

// unstated lists what the train file leaves open.
func (t *planText) unstated() {
	if len(t.plan.Unstated) == 0 {
		return
	}
	t.Heading("What the file did not state")
	t.Say("A limit that the file does not state limits nothing here.")
	var items []string
	for _, s := range unstatedShort(t.plan.Unstated) {
		items = append(items, words.Clean(s))
	}
	t.Items(items...)
}

// account says how the total stands to what is proven.
func (t *planText) account() {
	p := t.plan
	t.Heading("Total movement")
	total := words.With(t.Total(p.Plain), t.MoveUnit())
	if t.given != "" {
		total += " " + uncapital(t.given)
	}
	t.Say(total + ": what is moved up, down, sideways and along at every foot, left and right feet counted each.")
	if t.given != "" {
		t.Say("What the relief itself takes is not in it.")
	}
	if t.weighted() {
		weights := "how hard each machine is to move"
		if t.Train.Aim.FixedCost > 0 {
			weights += ", and what moving one costs at all"
		}
		t.Say(fmt.Sprintf("With the file's weights (%s) it is %s: that is the total which the plan makes small.",
			weights, words.With(t.Total(p.Total), t.MoveUnit())))
	}
	if p.ChanceConstraint != nil {
		t.assuredBound()
	} else if bound := t.Bound(p.Bound); bound == "" || bound.Zero() {
		t.Say("How small the total could be was not proven.")
	} else {
		near := "it is the smallest"
		if g := words.Ceil(100*p.Gap, 1); !g.Zero() {
			near = leastLower(g)
		}
		t.Say(t.under(fmt.Sprintf("No plan within %s of the limits%s has a smaller total than %s (proven); %s.",
			provenFor(t.plan.KeptShare), t.alike(), words.With(bound, t.MoveUnit()), near)))
		if first := t.Bound(p.FirstOrderBound); p.FirstOrderBound > p.Bound && first != bound {
			t.Say(fmt.Sprintf("By the linear equations it is %s: how far these may be off was not worked out close enough "+
				"for more.", words.With(first, t.MoveUnit())))
		}
	}
	if p.OverLeast > 0 {
		t.Say(fmt.Sprintf("The smallest total found is %s; this plan spends up to %g %% more to leave machines alone or "+
			"to bring the couplings closer.",
			words.With(t.Total(p.Least), t.MoveUnit()), 100*view.Spare))
	}
}

// leastLower says by how many per cent of a total the least one can be lower.
func leastLower(percent words.Number) string {
	return "the least total can be at most " + string(percent) + " % lower than this one"
}

// alike says which plans a bound on the total speaks of.
func (t *planText) alike() string {
	switch t.plan.Strategy {
	case "", view.LeastTotal:
		return ""
	case view.RaiseOnly:
		return " that takes no shims out"
	}
	return " that is as good by its strategy"
}

// weighted says whether the file's weights change the total.
func (t *planText) weighted() bool { return t.Total(t.plan.Total) != t.Total(t.plan.Plain) }
