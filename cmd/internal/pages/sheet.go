package pages

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Sheet is a plan as a work order for the crew; it must have moves. Source names
// the train file.
func Sheet(p *view.Plan, layout Page, source string) *doc.Doc {
	t := &order{formatter: formatterFor(p), plan: p, layout: layout, work: view.Order(p)}
	title := t.Title()
	if title == "" {
		title = words.Clean(source)
	}
	t.out.Doc = doc.Doc{
		Title: "Work order: " + title, Short: title, Blanks: []string{"Crew", "Date", "Start", "End"},
		Foot: []string{"File " + words.Clean(source), "plan " + layout.Number},
	}
	switch {
	case p.Provisional:
		t.out.Say("SOFT FOOT FIRST. " + t.tooSoft() + " Nothing else is moved: the readings were taken on soft feet, so " +
			"a plan made from them is not for use. Put the feet right, read every coupling again, and plan from that.")
		t.first()
		t.fills()
		t.readAgain()
	case len(t.work.Stages) == 0:
		t.out.Say(strings.TrimSpace(fmt.Sprintf("NOTHING IS TO BE MOVED: every coupling is within %s of its limits %s. %s",
			words.Percent(p.Reached), t.Conditions(), t.surely(p))))
		t.out.Say(t.signs())
		t.first()
		t.hold()
		t.stand()
	default:
		t.notAdvised()
		t.out.Says(t.task())
		t.first()
		t.hold()
		t.readFirst()
		for n := range t.work.Stages {
			t.stage(n)
			t.toothContact(n)
		}
		t.after()
	}
	t.sign(layout.Number)
	return &t.out.Doc
}

// An order is a work order under way.
type order struct {
	formatter
	plan   *view.Plan
	layout Page
	work   *view.WorkOrder
	out    doc.Builder
}

// section starts one, with room for who did it and when.
func (t *order) section(heading string) { t.out.Section(heading, "by", "time") }

// task is what is to be done, in a few sentences.
func (t *order) task() []string {
	p := t.plan
	parts := []string{fmt.Sprintf("Move %d of %s in %s, in this order: total movement %s, largest move at a foot %s. "+
		"Every coupling then is within %s of its limits %s.",
		p.Moved, words.Plural(len(p.Train.Machines), "machine"), words.Plural(len(t.work.Stages), "stage"),
		words.With(t.Total(p.Plain), t.MoveUnit()), words.With(t.Moved(p.Largest), t.MoveUnit()), words.Percent(p.Reached),
		t.Conditions())}
	if t.work.Held != nil {
		parts[0] += " Held: do not slacken, pull dowels or jack: " + words.And(t.Machines(t.work.Held)) + "."
	}
	if t.work.Stay != nil {
		parts[0] += " Not moved: " + words.And(t.Machines(t.work.Stay)) + "."
	}
	if p.Moved == 0 {
		parts[0] = "No machine moves: shims only fill the gaps under soft feet."
	}
	if t.work.AimMissed {
		parts = append(parts, fmt.Sprintf("That is more than the aim of %s.", words.Percent(p.Aim)))
	}
	if p.Cut != "" {
		parts = append(parts, "The search for this plan ended early: "+words.Clean(p.Cut)+".")
	}
	if v := p.Verdict; v == nil || v.Kind != view.NotAdvised {
		if verdict := t.verdict(); verdict != "" {
			parts = append(parts, verdict)
		}
	}
	parts = append(parts, t.signs())
	if shims := t.shims(); shims != "" {
		parts = append(parts, shims)
	}
	if t.work.Void {
		parts = slices.Insert(parts, 0, voidWords)
	}
	return parts
}

// signs says which way words count, and what units there are.
func (t *order) signs() string {
	return t.Sides() + " " + fmt.Sprintf("At a coupling: how the shaft nearer %s stands; it slopes and points as one "+
		"goes that way. In %s, angles in mrad (%s).",
		t.Machine(t.Last()), t.MoveUnit(), t.perLength())
}

// perLength says what a mrad is in the units of the file.
func (t *order) perLength() string {
	if t.MoveUnit() == "mil" {
		return "mil per inch"
	}
	return "mm per m"
}
