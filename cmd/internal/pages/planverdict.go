package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// verdict says whether to carry the plan out, why, and what the next step is.
func (t *planText) verdict() {
	if text := t.verdictWords(); text != "" {
		t.Say(text)
	}
}

// verdictWords are those of the verdict; "" without one.
func (t *planText) verdictWords() string {
	v := t.plan.Verdict
	if v == nil {
		return ""
	}
	text := t.judged(v) + t.unseen()
	var next, state []string
	for n := range v.Next {
		step := &v.Next[n]
		switch step.Kind {
		case view.TakePlan:
			o := &t.plan.Others.Rows[step.Row]
			if step.Chance < v.Least { // not advised either
				text += fmt.Sprintf(" The most that a plan here has is %s (%s).", chance(step.Chance), words.Flags(o.Flags))
				continue
			}
			what := chance(step.Chance)
			if o.Found {
				what += ", " + t.totals(o.Plain, o.Total)
			}
			next = append(next, fmt.Sprintf("take the plan with %s (%s)", words.Flags(o.Flags), what))
		case view.MeasureWell:
			short := ""
			if step.Chance < v.Wanted {
				short = ", still short"
			}
			next = append(next, fmt.Sprintf("half the error of the %s gives %s%s", t.measurement(step.Better),
				chance(step.Chance), short))
		case view.StateErrors:
			state = append(state, "[errors]")
		case view.StateGrowth:
			if len(state) < 2 {
				state = append(state, "the growth of "+words.And(t.Machines(v.Growth)))
			}
		}
	}
	if v.Reason == view.NoGrowth || v.Reason == view.NoRun || v.Reason == view.NoGap {
		state = t.toState()
	}
	if state != nil {
		next = append(next, "state "+words.And(state))
	}
	if next != nil {
		text += " Next: " + strings.Join(next, "; or ") + "."
	}
	return text
}

// unseen says of which couplings a misread position would not show, where a chance is given that counts it as read.
func (t *planText) unseen() string {
	if !chanceJudged(t.plan) || t.plan.Unseen == nil {
		return ""
	}
	var names []string
	for _, i := range t.plan.Unseen {
		names = append(names, t.Coupling(i))
	}
	return fmt.Sprintf(" Nothing checks a dial at %s, read at too few positions: a misread one would not show, and the "+
		"chance does not count it.", words.And(names))
}

// toState is what to state where no chance can be given without it, and where figures come from.
func (t *planText) toState() []string {
	run := false
	for _, u := range t.plan.Open {
		if u.Kind == view.UnstatedGrowth || u.Kind == view.UnstatedAlong {
			return []string{"it, also where there is none"}
		}
		run = run || u.Kind == view.UnstatedRun
	}
	if !run {
		return []string{"found.gap and wanted.gap, or no limit.gap"}
	}
	return []string{"run (0 in rolling bearings; plain ones: leastmove help journal shift)"}
}

// chanceJudged says whether the verdict gives the chance.
func chanceJudged(p *view.Plan) bool {
	if p.Verdict == nil {
		return false
	}
	switch p.Verdict.Reason {
	case view.ChanceKept, view.ChanceShort, view.ChanceLow:
		return true
	}
	return false
}

// judged is the verdict with its reason.
func (t *planText) judged(v *view.PlanVerdict) string {
	wanted := words.Fixed(100*v.Wanted, 1).Short() + " %"
	switch v.Reason {
	case view.ChanceKept:
		return fmt.Sprintf("CARRY OUT: %s chance of ending within all limits (%s wanted).", chance(v.Chance), wanted)
	case view.ChanceShort:
		return fmt.Sprintf("MARGINAL: %s chance of ending within all limits (%s wanted).", chance(v.Chance), wanted)
	case view.ChanceLow:
		return fmt.Sprintf("NOT ADVISED: %s chance of ending within all limits (%s wanted).", chance(v.Chance), wanted)
	case view.NoGrowth, view.NoRun, view.NoGap:
		if len(t.plan.Open) > 0 {
			return "NOT JUDGED: " + t.openWith(t.plan.Open, [4]string{}) + "."
		}
		return fmt.Sprintf("NOT JUDGED: the growth of %s is not stated.", words.And(t.Machines(v.Growth)))
	case view.LimitsBroken:
		return "NOT ADVISED: the moves break limits."
	}
	return "NOT JUDGED: the file does not state how good its readings are."
}

// OnFigure is what a figure of a plan says of it where it stands by itself: its number ("": it has none), and whether
// to carry it out.
func OnFigure(p *view.Plan, number string) string {
	t := &planText{formatter: formatterFor(p), plan: p}
	said := []string{"plan " + number}
	if number == "" {
		said[0] = "this plan"
	}
	if mark := marks(p); mark != "" {
		said = append(said, mark)
	}
	switch {
	case p.Status != view.Planned:
		said = append(said, status(p))
	case p.Verdict != nil:
		said = append(said, strings.TrimSuffix(t.judged(p.Verdict), "."))
	}
	return doc.Bare(strings.Join(said, "; "))
}
