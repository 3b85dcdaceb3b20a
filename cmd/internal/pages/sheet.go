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
// the train file, above is the train from above with its feet numbered.
func Sheet(p *view.Plan, layout Page, source string, above *doc.Figure) *doc.Doc {
	t := &order{formatter: formatterFor(p), plan: p, layout: layout, work: view.Order(p), above: above}
	title := t.Title()
	if title == "" {
		title = words.Clean(source)
	}
	t.out.Doc = doc.Doc{
		Title: "Work order: " + title, Short: title, Blanks: []string{"Crew", "Date", "Start", "End"},
		Foot: []string{"File " + words.Clean(source), "plan " + layout.Number +
			" (number of leastmove plan --format json, same flags)"},
	}
	t.out.Doc.State = t.state()
	switch {
	case p.Provisional:
		t.out.Say("SOFT FOOT FIRST. " + t.tooSoft() + " Nothing else is moved: the readings were taken on soft feet, so " +
			"a plan made from them is not for use. Put the feet right, read every coupling again, and plan from that.")
		t.first()
		t.fills()
		t.readAgain()
	case p.Relieved != nil:
		t.hold()
	case len(t.work.Stages) == 0:
		t.out.Say(strings.TrimSpace(fmt.Sprintf("NOTHING IS TO BE MOVED: every coupling is within %s of its limits %s. %s",
			words.Percent(p.Reached), t.Conditions(), t.surely(p))))
		t.first()
		t.stand()
	case heldBy(p) != nil && !layout.Released:
		t.undecided(heldBy(p))
		return &t.out.Doc // nothing was done that could be signed for
	default:
		t.out.Put(doc.Blanks{"Released by (engineer)", "Time"})
		t.out.Says(t.task())
		t.released()
		t.moves()
		t.first()
		t.readFirst()
		t.howStages()
		for n := range t.work.Stages {
			t.stage(n)
			t.toothContact(n)
		}
		t.after()
	}
	t.sign()
	return &t.out.Doc
}

// An order is a work order under way.
type order struct {
	formatter
	plan   *view.Plan
	layout Page
	work   *view.WorkOrder
	above  *doc.Figure
	along  bool // the stage under way shifts its machine along the train
	out    doc.Builder
}

// section starts one, with room for who did it and when.
func (t *order) section(heading string) { t.out.Section(heading, "by", "time") }

// task is what is to be done, in a few sentences.
func (t *order) task() []string {
	p := t.plan
	parts := []string{fmt.Sprintf("Move %d of %s, in %s: total movement %s, largest move at a foot %s. "+
		"Every coupling then is within %s of its limits %s.",
		p.Moved, t.Count(), words.Plural(len(t.work.Stages), "stage"),
		words.With(t.Total(p.Plain), t.MoveUnit()), words.With(t.Moved(p.Largest), t.MoveUnit()), words.Percent(p.Reached),
		t.Conditions())}
	if p.Moved == 0 {
		parts[0] = "No machine moves: shims only fill the gaps under soft feet."
	}
	if t.work.Held != nil {
		parts[0] += " Held: do not slacken, pull dowels or jack: " + words.And(t.Machines(t.work.Held)) + "."
	}
	if t.work.Stay != nil {
		parts[0] += " Not moved: " + words.And(t.Machines(t.work.Stay)) + "."
	}
	if t.work.AimMissed {
		parts = append(parts, fmt.Sprintf("That is more than the aim of %s.", words.Percent(p.Aim)))
	}
	for _, said := range t.beyondStated(p) {
		parts = append(parts, words.Capital(said)+".")
	}
	if p.Cut != "" {
		parts = append(parts, "The search for this plan ended early: "+words.Clean(p.Cut)+".")
	}
	if heldBy(p) == nil { // a hold box says it
		switch verdict := t.verdict(); {
		case verdict == "":
		case t.plan.Verdict.Kind == view.NotJudged: // what is missing comes first: knowing it might hold the plan
			parts = slices.Insert(parts, 0, verdict)
		default:
			parts = append(parts, verdict)
		}
	}
	return parts
}

// moves are all moves at a glance: the train from above, a table, and the shims to have at hand.
func (t *order) moves() {
	t.out.Section("")
	if t.above != nil {
		t.out.Put(t.above)
	}
	k := doc.Table{Form: "moves", Columns: doc.Wides("no.", "machine, foot", "shims", "pack", "sideways"), Names: 2}
	for _, m := range view.MovedFeetOf(t.Train, t.plan.Moves) {
		var numbers []string
		for _, f := range m.Feet {
			numbers = append(numbers, t.number(m.Machine, f))
		}
		k.Rows = append(k.Rows, []doc.Cell{{Text: strings.Join(numbers, ", ")},
			{Text: t.Machine(m.Machine) + ", " + t.spot(m.Machine, m.Feet, ", each")},
			{Text: t.bare(t.Shim(m.Change.By())), Bold: true}, {Text: t.packThen(m.Change)},
			{Text: t.sited(t.bare(t.Side(m.Left)), m.Left), Bold: true}})
	}
	for i, feet := range t.plan.Moves {
		if len(feet) > 0 && !t.Moved(feet[0].Axial).Zero() {
			k.Rows = append(k.Rows, []doc.Cell{{}, {Text: t.Machine(i) + ", the whole machine"}, {}, {},
				{Text: t.bare(t.Along(feet[0].Axial)), Bold: true}})
		}
	}
	t.out.Say(fmt.Sprintf("All moves, in %s. %s", t.MoveUnit(), t.Sides()))
	t.out.Table(k)
	if shims := t.shims(); shims != "" {
		t.out.Say(shims)
	}
}

// number is that of a foot in the drawing.
func (t *order) number(m, f int) string { return fmt.Sprint(view.FootNumber(t.Train, m, f)) }

// signs says how offsets and angles count, and what units there are.
func (t *order) signs() string {
	units := fmt.Sprintf("In %s, angles in mrad (%s).", t.MoveUnit(), t.perMrad())
	for i := range t.work.Couplings {
		dials := t.work.Couplings[i].Instruments
		if dials == nil || slices.ContainsFunc(dials, func(d view.Instrument) bool { return d.Kind == view.OffsetDial }) {
			return fmt.Sprintf("At a coupling: how the shaft nearer %s sits; it slopes and points as one goes that way. ",
				t.Machine(t.Last())) + units
		}
	}
	return units
}

// footSpot is a foot's name, or that of the pair that it is of.
func (t *order) footSpot(m, f int) string {
	if f+1 < len(t.Train.Machines[m].Feet) {
		if table, pair := t.Pair(m, f, f+1); pair {
			return table
		}
	}
	return t.Foot(m, f)
}

// noMargin says what an acceptance tolerance with no room at couplings means to a crew.
func (t *order) noMargin(couplings []int) string {
	what := "Not for carrying out before the engineer says so."
	if len(t.work.Stages) == 0 {
		what = "Not to be left so before the engineer says so."
	}
	return fmt.Sprintf("NO MARGIN at %s: this plan uses up the limits there. %s", t.quotedAll(couplings), what)
}

// quoted is a coupling's name in a sentence.
func (t *order) quoted(i int) string { return `"` + t.Coupling(i) + `"` }

func (t *order) quotedAll(couplings []int) string {
	var names []string
	for _, i := range couplings {
		names = append(names, t.quoted(i))
	}
	slices.Sort(names)
	return words.And(names)
}
