package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// brief is the page for one screen: what to do, whether to, what else there is, what to
// check, and where the rest is.
func (t *planText) brief(layout Page) {
	p := t.plan
	t.Space()
	t.asked(layout)
	t.dependsOn()
	missed := t.chanceMissed()
	switch {
	case missed:
		t.byStrategy()
		t.assured()
	case p.Status == view.Planned:
		t.headline()
		t.verdict()
		t.byStrategy()
		t.assured()
	default:
		t.answer()
		t.verdict()
	}
	switch {
	case missed:
		t.raised()
		t.othersShort()
	case p.Status == view.Planned:
		t.softShort()
		t.movesShort()
	case p.Nearest != nil:
		t.nearestMoves()
	}
	if p.Explained {
		t.options(layout)
		t.conflict(layout)
	}
	if !missed {
		t.couplingsShort()
	}
	if p.Status == view.Planned && !missed {
		t.coldShort()
		t.limitsShort()
		t.othersShort()
	}
	t.checksShort(layout)
	t.Space()
	if p.Status == view.Planned && !missed {
		t.Say("Lock out, tag out; mind guards, pipes, lifting, heat. Site rules go first.")
	}
	t.whereTheRestIs()
}

// head says what follows, over a table or a list.
func (t *planText) head(what, more string) {
	if mark := marks(t.plan); mark != "" {
		what += " (" + mark + ")"
	}
	if t.Isolated { // a page with headings
		t.Heading(what)
		if more = strings.TrimLeft(more, ":, "); more != "" {
			t.Say(words.Capital(more) + ".")
		}
		return
	}
	t.Space()
	t.Say(what + more)
}

// headline is what the plan asks for and gives, and what a supervisor must hear at once.
func (t *planText) headline() {
	p := t.plan
	aim := ""
	if !p.Missed {
		aim = fmt.Sprintf(" (aim %s)", words.Percent(p.Aim))
	}
	t.Say(t.under(fmt.Sprintf("Move %d of %s: total %s over %s, largest move %s; the worst coupling ends at %s of its "+
		"limit %s%s.", p.Moved, t.Count(), t.inAll(), footCount(p.Summary.Feet),
		words.With(t.Moved(p.Largest), t.MoveUnit()), words.Percent(p.Reached), t.Conditions(), aim)))
	if p.Missed {
		t.Say(t.missed())
	}
	if p.Cut != "" {
		t.Say("The search ended early: " + words.Clean(p.Cut) + ".")
	}
	var items []string
	for _, r := range p.Summary.Rolls {
		side := "left"
		if r.Roll < 0 {
			side = "right"
		}
		items = append(items, fmt.Sprintf("%s rolls by %s, %s side up", t.Machine(r.Machine),
			words.With(t.Angle(math.Abs(r.Roll)), "mrad"), side))
	}
	if s := p.Summary.Soft; s != nil {
		items = append(items, fmt.Sprintf("the shim packs leave up to %s of soft foot at %s",
			words.With(t.Offset(s.Most), t.MoveUnit()), words.And(t.Machines(s.Machines))))
	}
	items = append(items, t.beyondStated(p)...)
	t.Items(items...)
}

// beyondStated says which conditions may use more than the limits as they are stated, those that may use the same
// together: their shares are of that.
func (f formatter) beyondStated(p *view.Plan) []string {
	var uses []float64
	sharing := map[float64][]string{}
	for _, k := range p.Summary.Widened {
		use := f.Train.Conditions[k].Use
		if sharing[use] == nil {
			uses = append(uses, use)
		}
		sharing[use] = append(sharing[use], f.Condition(k))
	}
	var out []string
	for _, use := range uses {
		names := sharing[use]
		who := "condition " + names[0]
		switch {
		case len(names) > 1 && len(names) == len(f.Train.Conditions):
			who = "every condition"
		case len(names) > 1:
			who = "conditions " + words.And(names)
		}
		out = append(out, fmt.Sprintf("%s may use %s of the stated limits", who, exactly(use)))
	}
	return out
}

// footCount is a number of feet.
func footCount(n int) string {
	if n == 1 {
		return "1 foot"
	}
	return fmt.Sprintf("%d feet", n)
}

// raised is what would raise the chance, where the one that was asked for was not reached.
func (t *planText) raised() {
	items := []string{"wider limits, or less error of placing and growth"}
	if t.plan.Chance != nil {
		for _, b := range t.plan.Chance.Better {
			items = append(items, fmt.Sprintf("half the error of %s: %s", t.measurement(b.Measurement), chance(b.Within)))
		}
	}
	t.Space()
	t.Say("What would raise the chance")
	t.Items(items...)
}

// softShort is what fills gaps under feet before anything else.
func (t *planText) softShort() {
	var said alike
	for _, s := range t.plan.SoftFeet {
		foot := t.Machine(s.Machine) + " " + t.Foot(s.Machine, s.Foot)
		gap := words.With(t.Offset(s.Gap), t.MoveUnit())
		if t.Moved(s.Fill).Zero() {
			said.of(foot, "leave %s as it is: "+gap+", a shim would leave no less")
			continue
		}
		said.of(foot, "put "+words.With(t.Moved(s.Fill), t.MoveUnit())+" under %s: "+gap+" measured (in the shims below)")
	}
	if said.words == nil {
		return
	}
	t.Space()
	t.Say("First: soft foot")
	t.Items(said.all()...)
}

// movesShort are the moves of the plan.
func (t *planText) movesShort() { t.movesTable("Moves") }

// nearestMoves are the moves that miss the limits by least, where it is undecided whether there is a plan.
func (t *planText) nearestMoves() {
	whole, n := t.plan, t.plan.Nearest
	defer func() { t.plan = whole }()
	t.plan = n // for the table of moves
	t.Space()
	t.nearestSaid()
	t.movesTable("Moves that miss by least")
}

// nearestSaid says what the nearest moves come to; they are the plan at hand.
func (t *planText) nearestSaid() {
	n := t.plan
	t.Say(fmt.Sprintf("Nearest known: move %d of %s, total %s; the worst coupling ends at %s of its limit %s. Every "+
		"other limit is kept.", n.Moved, t.Count(),
		words.With(t.Total(n.Plain), t.MoveUnit()), past(n.Reached), t.Conditions()))
}

// past is a share of a limit above all of it, with as many decimals as tell it from all.
func past(share float64) string {
	for decimals := range 5 {
		if n := words.Fixed(100*share, decimals); n != words.Fixed(100, decimals) {
			return string(n) + " %"
		}
	}
	return words.Percent(share)
}

// movesTable is a table of all moves under a title.
func (t *planText) movesTable(title string) {
	p := t.plan
	t.head(title, fmt.Sprintf(", in %s; left and right looking from %s to %s", t.MoveUnit(), t.Machine(0),
		t.Machine(t.Last())))
	if g := t.movedTable(p.Summary.Moves); len(g.Rows) > 0 {
		t.Table(g)
	}
	var stay, held []string
	for i, feet := range p.Moves {
		switch {
		case t.Train.Machines[i].Hold:
			held = append(held, t.Machine(i))
			continue
		case !p.Moves.Moved(i) && t.cut(i) == "" && t.filling(i) == nil:
			stay = append(stay, t.Machine(i))
			continue
		}
		if !t.Moved(feet[0].Axial).Zero() {
			t.Say(words.Capital(t.Machine(i)) + ": " + t.Along(feet[0].Axial) + ".")
		}
		if cut := t.cut(i); cut != "" {
			t.Say(words.Capital(t.Machine(i)) + ": " + cut + ".")
		}
		if chocks := t.Stepless(i); chocks != "" {
			t.Say(words.Capital(chocks) + ".")
		}
	}
	t.Says(t.gapsFilled())
	var rest []string
	if stay != nil {
		rest = append(rest, "Stays: "+words.And(stay)+".")
	}
	if held != nil {
		rest = append(rest, "Held, may not be moved: "+words.And(held)+".")
	}
	if rest != nil {
		t.Say(strings.Join(rest, " "))
	}
}

// movedTable has a row for each foot or pair of feet that is moved.
func (t *planText) movedTable(moves []view.MovedFeet) doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("foot"), doc.Fixed("shims"), doc.Fixed("shim pack"), doc.Wide("sideways"),
	}, Names: 2}
	last := -1
	for _, m := range moves {
		name := ""
		if m.Machine != last {
			name = t.Machine(m.Machine)
		}
		last = m.Machine
		g.Add(name, t.spot(m.Machine, m.Feet, ", both"), bare(t.Shim(m.Change.By()), t.MoveUnit()), t.Pack(m.Change),
			t.sited(bare(t.Side(m.Left), t.MoveUnit()), m.Left))
	}
	return g
}

// bare is words without the unit that the head of a table has.
func bare(s, unit string) string { return strings.TrimSuffix(s, " "+unit) }

// couplingsShort is one row a coupling.
func (t *planText) couplingsShort() {
	t.head("Couplings", ": worst share of a limit, and the limit and condition that govern")
	g := doc.Table{Columns: []doc.Column{doc.Wide("coupling"), doc.Number("before"), doc.Number("after"),
		doc.Wide("governed by")}}
	moves := t.plan.Status == view.Planned
	if !moves {
		g.Columns[1].Head = "as found"
	}
	for _, c := range t.plan.Summary.Couplings {
		g.Add(t.Coupling(c.Coupling), words.Percent(c.Before), words.Percent(c.After),
			t.governs(c.Use, &c.Reading)+", "+t.Condition(c.Condition))
	}
	if !moves {
		g.Drop(2)
	}
	t.Table(g)
	t.Items(t.toConfirm()...)
}

// toConfirm is what the couplings' makers are to be asked, where limits add up or are passed in warm-up.
func (t *planText) toConfirm() []string {
	return append(t.togetherShort(t.plan.Summary.Together), t.warmShort(t.plan.Warm)...)
}

// governs is what is used of the limit that governs a coupling in one condition; of limits added up, of each.
func (t formatter) governs(u view.Use, r *view.Reading) string {
	if r.Sum > 0 {
		return shares(r) + " added up"
	}
	return t.usedShort(u)
}

// usedShort is what is used of one limit.
func (t formatter) usedShort(u view.Use) string {
	name := u.Kind.String()
	amount, limit, unit := t.Offset(view.Amount(u)), t.Offset(u.Limit), t.MoveUnit()
	switch {
	case u.Kind == view.Gap:
		name, amount, limit, unit = "shaft ends", t.Length(view.Amount(u)), t.Length(u.Limit), t.LengthUnit()
	case u.Kind.Angular():
		amount, limit, unit = t.Angle(view.Amount(u)), t.Angle(u.Limit), "mrad"
	}
	return fmt.Sprintf("%s %s of %s", name, amount, words.With(limit, unit))
}

// coldShort is what to read after the moves, one row a coupling.
func (t *planText) coldShort() {
	t.head("Read cold after the moves",
		fmt.Sprintf(", in %s, slopes in mrad (%s): the shaft nearer %s relative to the other, at x", t.MoveUnit(),
			t.perMrad(), t.Machine(t.Last())))
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("coupling"), doc.Number("x"), doc.Fixed("up, down"), doc.Fixed("slopes"), doc.Fixed("sideways"),
		doc.Fixed("points"),
	}}
	for i, r := range t.plan.AtRest {
		g.Add(t.Coupling(i), t.Station(t.Train.Couplings[i].X),
			words.Signed(t.Offset, r.V.Offset, "%s high", "%s low"), words.Signed(t.Angle, r.V.Angle, "up %s", "down %s"),
			words.Signed(t.Offset, r.H.Offset, "%s left", "%s right"), words.Signed(t.Angle, r.H.Angle, "left %s", "right %s"))
	}
	t.Table(g)
	for _, f := range t.plan.Summary.Faces {
		top, left := t.gapSides(f)
		t.Item(fmt.Sprintf("%s, gap on a diameter of %s: wider by %s, %s", t.Coupling(f.Coupling),
			t.gapAcross(f), top, left))
	}
}

// gapAcross is the diameter on which the gap between the faces of a coupling is told.
func (s formatter) gapAcross(f view.FaceGap) string {
	return words.With(words.Number(s.Length(f.Diameter).Short()), s.LengthUnit())
}

// gapSides is by how much the gap is wider on which side, up and down and sideways.
func (s formatter) gapSides(f view.FaceGap) (top, left string) {
	return words.Signed(s.Offset, f.Top, "%s at the top", "%s at the bottom"),
		words.Signed(s.Offset, f.Left, "%s at the left", "%s at the right")
}

// perMrad is 1 mrad as a slope in the file's units.
func (s formatter) perMrad() string {
	if s.Units == view.Inches {
		return "1 mil per inch"
	}
	return "0.1 mm per 100 mm"
}
