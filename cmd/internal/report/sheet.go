package report

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/sheet"
	"leastmove/optimize"
)

// Sheet is a plan as a work order for the crew; it must have moves. Source names
// the train file.
func Sheet(p *optimize.Plan, layout Page, source string) (*sheet.Sheet, error) {
	sum, err := PlanNumber(p, layout)
	if err != nil {
		return nil, err
	}
	t := &order{speaker: speakerFor(p), plan: p, layout: layout, staging: optimize.Stages(p)}
	t.out = sheet.Sheet{Title: t.title(), Source: clean(source), Plan: sum}
	if t.out.Title == "" {
		t.out.Title = clean(source)
	}
	switch {
	case p.Provisional():
		t.head("SOFT FOOT FIRST. " + t.tooSoft() + " Nothing else is moved: the readings were taken on soft feet, so a plan made from them is not for use. Put the feet right, read every coupling again, and plan from that.")
		t.first()
		t.fills()
		t.readAgain()
	case len(t.staging.Stages) == 0:
		t.head(strings.TrimSpace(fmt.Sprintf("NOTHING IS TO BE MOVED: every coupling is within %s of its limits %s. %s", percent(p.Reached), t.conditions(), t.surely(p))), t.signs())
		t.first()
		t.hold()
		t.stand()
	default:
		t.head(t.task()...)
		t.first()
		t.hold()
		t.readFirst()
		for n := range t.staging.Stages {
			t.stage(n)
		}
		t.after()
	}
	return &t.out, nil
}

// sumDigits are enough to tell the plans of a site from each other.
const sumDigits = 8

// PlanNumber tells one plan from another: the first digits of the SHA-256 of the
// plan as JSON.
func PlanNumber(p *optimize.Plan, layout Page) (string, error) {
	var b bytes.Buffer
	if err := JSON(&b, p, layout); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x", sha256.Sum256(b.Bytes()))[:sumDigits], nil
}

// An order is a work order under way.
type order struct {
	speaker
	plan    *optimize.Plan
	layout  Page
	staging *optimize.Staging
	out     sheet.Sheet
	allowed []optimize.Gate // what each coupling may be off by
}

// gates are what couplings may be off by at the end, and before the first stage.
func (t *order) gates() []optimize.Gate {
	if t.allowed == nil {
		t.allowed = t.plan.Gates()
	}
	return t.allowed
}

func (t *order) add(b sheet.Block) { t.out.Blocks = append(t.out.Blocks, b) }

// head says what the sheet is, and has room for names and times.
func (t *order) head(words ...string) {
	t.add(sheet.Block{
		Heading: "Work order: " + t.out.Title, Large: true,
		Fields: []string{"Crew", "Date", "Start", "End"}, Text: words,
	})
}

// task is what is to be done, in a few sentences.
func (t *order) task() []string {
	p := t.plan
	words := []string{fmt.Sprintf("Move %d of %s in %s, in this order: total movement %s, largest move at a foot %s. Every coupling then is within %s of its limits %s.",
		p.Moved, plural(len(p.Train.Machines), "machine"), plural(len(t.staging.Stages), "stage"),
		with(t.total(p.Plain), t.moveUnit()), with(t.moved(p.Peak), t.moveUnit()), percent(p.Reached), t.conditions())}
	var held, stay []string
	for i := range p.Train.Machines {
		switch {
		case p.Moves.Moved(i):
		case p.Train.Machines[i].Hold:
			held = append(held, t.machine(i))
		default:
			stay = append(stay, t.machine(i))
		}
	}
	if held != nil {
		words[0] += " Held: do not slacken, pull dowels or jack: " + and(held) + "."
	}
	if stay != nil {
		words[0] += " Not moved: " + and(stay) + "."
	}
	if p.Moved == 0 {
		words[0] = "No machine moves: shims only fill the gaps under soft feet."
	}
	if p.Reached > p.Aim*(1+fair) {
		words = append(words, fmt.Sprintf("That is more than the aim of %s.", percent(p.Aim)))
	}
	if p.Cut != "" {
		words = append(words, "The search for this plan ended early: "+clean(p.Cut)+".")
	}
	if sure := t.surely(p); sure != "" {
		words[0] += " " + sure
	}
	words = append(words, t.signs())
	if shims := t.shims(); shims != "" {
		words = append(words, shims)
	}
	if t.void() {
		words = slices.Insert(words, 0, voidWords)
	}
	return words
}

// signs says which way words count, and what units there are.
func (t *order) signs() string {
	return t.sides() + " " + fmt.Sprintf("At a coupling: how the shaft nearer %s stands; it climbs and turns as one goes that way. In %s, angles in mrad (%s).",
		t.machine(t.last()), t.moveUnit(), t.perLength())
}

// perLength says what a mrad is in the units of the file.
func (t *order) perLength() string {
	if t.moveUnit() == "mil" {
		return "mil per inch"
	}
	return "mm per m"
}
