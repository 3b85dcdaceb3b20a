package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

type planText struct {
	page
	formatter
	plan  *view.Plan
	given string // what the plan depends on: "With relief 1"; ""
}

// givenBy is what a plan depends on.
func givenBy(p *view.Plan) string {
	if r := p.Relieved; r != nil {
		return fmt.Sprintf("With relief %d", r.Number)
	}
	return ""
}

// under is a sentence with what the plan depends on before it.
func (t *planText) under(sentence string) string {
	if t.given == "" {
		return sentence
	}
	return t.given + ", " + uncapital(sentence)
}

// marks is what a whole page depends on, in words.
func marks(p *view.Plan) string {
	var words []string
	if p.Provisional {
		words = append(words, "PROVISIONAL")
	}
	if r := p.Relieved; r != nil {
		words = append(words, fmt.Sprintf("with relief %d", r.Number))
	}
	return strings.Join(words, ", ")
}

// dependsOn says at the top what the page depends on.
func (t *planText) dependsOn() {
	if r := t.plan.Relieved; r != nil {
		t.Say(fmt.Sprintf("%s: %s. Without that no plan exists.", t.given, t.advice(r.Relaxation)))
		t.Say(strings.Join(t.optionCautions(r.Edits), " "))
		t.Space()
	}
	t.provisional()
}

// provisional says that the readings can't be trusted, where that is so.
func (t *planText) provisional() {
	if t.plan.Provisional {
		t.Say("PROVISIONAL: put the soft foot right first (see below), read every coupling again and plan from " +
			"those readings.")
		t.Space()
	}
}

// answer is what came of planning, in a sentence or two.
func (t *planText) answer() {
	p := t.plan
	switch p.Status {
	case view.Planned:
		weighted := ""
		if t.weighted() {
			weighted = fmt.Sprintf(" (%s with the file's weights)", t.Total(p.Total))
		}
		t.Say(t.under(fmt.Sprintf("Move %d of %s; total movement %s%s, largest move at a foot %s; every coupling ends "+
			"within %s of its limits %s.",
			p.Moved, t.Count(), words.With(t.Total(p.Plain), t.MoveUnit()), weighted,
			words.With(t.Moved(p.Largest), t.MoveUnit()),
			words.Percent(p.Reached), t.Conditions())))
		if p.Missed {
			t.Say(t.missed())
		}
	case view.Within:
		t.Say(t.under(fmt.Sprintf("Nothing needs to move: as found, every coupling is within %s of its limits %s.",
			words.Percent(p.Reached), t.Conditions())))
	case view.Impossible:
		t.Say(t.under(fmt.Sprintf("No plan exists: no moves that the feet allow bring every coupling within its limits "+
			"%s%s (proven).", t.Conditions(), t.andWarmUp())))
	case view.Undecided:
		t.Say(t.under("Undecided: no plan was found, and it was not proven that there is none."))
		if p.FirstOrder {
			t.Say("To first order, by the linear equations, there is none; by true geometry it hangs on the last of a limit. " +
				"The conflict below holds to first order, and so does that an option is needed.")
		}
		if l := words.Floor(100*p.Lowest, 0); l != "" && p.Lowest >= 0.01 {
			t.Say(fmt.Sprintf("Proven: whatever is moved, some coupling stays at %s %% of a limit or more.", l))
		}
		if b := t.Bound(p.Bound); b != "" {
			t.Say(fmt.Sprintf("Proven: no plan has a smaller total than %s.", words.With(b, t.MoveUnit())))
		}
	default:
		t.Say("Not solved: the search ended before it came to a plan, or to a proof that there is none.")
	}
	if words := t.surely(p); words != "" && p.ChanceConstraint == nil && !chanceJudged(p) {
		t.Say(words)
	}
	if p.Cut != "" {
		t.Say("The search ended early: " + words.Clean(p.Cut) + ".")
	}
}

// missed says that the aim was not met, and what is proven about it.
func (t *planText) missed() string {
	p := t.plan
	if p.Unreachable {
		return fmt.Sprintf("The aim of %s cannot be reached: some coupling stays %s, whatever is moved (proven); this plan "+
			"reaches %s.", provenFor(p.Aim), staysAt(p.Lowest, p.Aim), words.Percent(p.Reached))
	}
	return fmt.Sprintf("The aim of %s was not reached, and it was not proven whether it can be; this plan reaches %s.",
		words.Percent(p.Aim), words.Percent(p.Reached))
}

// staysAt is where some coupling stays by what is proven, as a share of a limit, with as many decimals as show that
// it is more than the aim.
func staysAt(lowest, aim float64) string {
	for decimals := range 3 {
		if share := words.Floor(100*lowest, decimals); share != words.Floor(100*aim, decimals) {
			return fmt.Sprintf("at %s %% of a limit or more", share)
		}
	}
	return "above " + provenFor(aim) + " of a limit"
}

// provenFor is a share of the limits in a sentence on what is proven for it. It is
// rounded down: what is proven for a share is proven for a smaller one.
func provenFor(share float64) string { return words.Floor(100*share, 1).Short() + " %" }

// cautions are those that nothing that asks for moves should be without.
func (p *page) cautions(further string) {
	p.Space()
	p.Say("Lock out and tag out. Mind guards, lifting, stored heat and pressure, torque" + further + ".")
	p.Say("Read every coupling again after the moves. Site rules and makers' manuals first.")
}
