package pages

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Text writes a plan: the short page, all parts of it, or the parts that were asked for.
func Text(w io.Writer, p *view.Plan, layout Page) error {
	t := &planText{page: page{width: layout.width()}, formatter: formatterFor(p), plan: p}
	t.given = givenBy(p)
	t.Doc.Title = t.Title()
	switch {
	case layout.Full:
		t.full(layout)
	case len(layout.Show) > 0:
		t.shown(layout)
	default:
		t.brief(layout)
	}
	return t.Doc.Text(w, t.width)
}

// full is all that there is to say of a plan.
func (t *planText) full(layout Page) {
	t.Space()
	t.asked(layout)
	t.dependsOn()
	missed := t.chanceMissed()
	if !missed {
		t.answer()
		t.verdict()
	}
	t.byStrategy()
	t.assured()
	if missed {
		t.raised()
	}
	for _, part := range planParts() {
		if missed && !slices.Contains([]string{"soft-foot", "others", "unstated", "checks"}, part.name) {
			continue // the answer is "not reached", and no plan to carry out
		}
		t.Mark = ""
		if part.name != "soft-foot" {
			t.Mark = marks(t.plan)
		}
		part.say(t, layout)
	}
	switch {
	case missed:
		t.Space()
		t.Say("The plan with the highest chance that was found: --show moves, couplings, chance.")
	case t.plan.Status == view.Planned:
		t.cautions("")
	}
}

// chanceMissed says whether a chance was asked for that no plan found has.
func (t *planText) chanceMissed() bool {
	return t.plan.ChanceConstraint != nil && !t.plan.ChanceConstraint.Reached
}

// shown are the parts that were asked for, in the order of the page.
func (t *planText) shown(layout Page) {
	t.Space()
	t.asked(layout)
	t.dependsOn()
	t.Mark = marks(t.plan)
	for _, part := range planParts() {
		if !slices.Contains(layout.Show, part.name) {
			continue
		}
		before := len(t.Doc.Blocks)
		if part.say(t, layout); len(t.Doc.Blocks) == before {
			t.Heading(words.Capital(part.about))
			t.Say(fmt.Sprintf("There is nothing of this for this plan (%s).", part.name))
		}
	}
}

// A planPart is one part of the full page of a plan.
type planPart struct {
	name, about string
	say         func(*planText, Page)
}

// PlanParts are the names of the parts of a plan's page, and what each is.
func PlanParts() (names, about []string) {
	for _, part := range planParts() {
		names, about = append(names, part.name), append(about, part.about)
	}
	return names, about
}

// planParts are the parts of a plan's page, in its order.
func planParts() []planPart {
	always := func(say func(*planText)) func(*planText, Page) {
		return func(t *planText, _ Page) { say(t) }
	}
	when := func(status view.Status, say func(*planText)) func(*planText, Page) {
		return func(t *planText, _ Page) {
			if t.plan.Status == status {
				say(t)
			}
		}
	}
	impossible := func(say func(*planText, Page)) func(*planText, Page) {
		return func(t *planText, layout Page) {
			if t.plan.Explained {
				say(t, layout)
			}
		}
	}
	return []planPart{
		{"soft-foot", "soft foot to put right first", always((*planText).soft)},
		{"options", "where no plan exists: what to do", impossible((*planText).options)},
		{"conflict", "where no plan exists: the limits that can't hold together", impossible((*planText).conflict)},
		{"moves", "moves, foot by foot", always((*planText).movesOrNearest)},
		{"shims", "shim packs, piece by piece", when(view.Planned, (*planText).packs)},
		{"cold", "what to read after the moves, cold, dials included", when(view.Planned, (*planText).rest)},
		{"couplings", "couplings before and after, in each condition", func(t *planText, _ Page) {
			t.beforeAndAfter()
			if t.plan.Status == view.Planned {
				t.drivers()
			}
		}},
		{"position", "level, nozzles and soft foot after the moves", when(view.Planned, (*planText).position)},
		{"limits", "what limits the plan", when(view.Planned, (*planText).ends)},
		{"room", "what is left to each foot", when(view.Planned, (*planText).reserve)},
		{"chance", "chance of ending within limits", func(t *planText, _ Page) {
			if t.plan.Status != view.Impossible {
				t.sure()
			}
		}},
		{"prices", "what limits cost", when(view.Planned, (*planText).shadowPrices)},
		{"others", "other plans", when(view.Planned, (*planText).otherPlans)},
		{"total", "total movement, and what is proven of it", when(view.Planned, (*planText).account)},
		{"unstated", "what the file did not state", always((*planText).unstated)},
		{"checks", "inputs to check, in full", func(t *planText, layout Page) { t.warnings(layout) }},
	}
}

// whereTheRestIs leads on from the short page.
func (t *planText) whereTheRestIs() {
	names, _ := PlanParts()
	planned, impossible := t.plan.Status == view.Planned, t.plan.Explained
	names = slices.DeleteFunc(names, func(name string) bool {
		switch name {
		case "options", "conflict":
			return !impossible
		case "soft-foot":
			return t.plan.SoftFeet == nil
		case "couplings", "unstated", "checks":
			return false
		case "chance":
			return impossible || t.plan.Chance == nil && len(t.plan.Open) == 0
		}
		return !planned
	})
	t.Say("More: --full, or --show " + strings.Join(names, ", ") + ".")
}
