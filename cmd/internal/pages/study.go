package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
)

// A Study is a plan and what was looked at beside it.
type Study struct {
	Plan       *view.Plan
	Comparison *view.Comparison // nil: left out
	TradeGap   float64          // share, within which each total of the trade-off was proven
	Timed      bool             // a limit of time was set
}

// omitted says what was left out, and why.
func (s *Study) omitted() []string {
	switch {
	case s.Plan.Status == view.Within:
		return []string{"Strategies and the trade-off are left out: nothing needs to move. " +
			"leastmove compare --trade has them."}
	case s.Comparison == nil:
		return []string{"Strategies and the trade-off are left out: there is no plan to set others beside."}
	}
	out := []string{fmt.Sprintf("The trade-off was searched until each total was proven to within %g %%: "+
		"leastmove compare --trade goes further.", 100*s.TradeGap),
		"Which sets of machines can do it alone is left out: leastmove compare --subsets has that."}
	if s.Timed {
		out = append(out, "The clock limited every search: what it cut may come out otherwise in another run.")
	}
	return out
}

// Figures are drawings by a name; nil where there is nothing to draw.
type Figures func(name string) ([]*doc.Figure, error)

// Doc is the report: all that a study says, in the order in which it is read. Names in
// it stand between doc.Isolate and doc.Resume.
func (s *Study) Doc(layout Page, file File, figures Figures) (*doc.Doc, error) {
	p := s.Plan
	t := &planText{formatter: formatterFor(p), plan: p}
	t.Isolated = true
	t.given = givenBy(p)
	var err error
	mark := marks(p)
	drawn := drawnBy(figures, &err)
	when := func(is bool, say ...func()) []doc.Block {
		if !is {
			return nil
		}
		return t.said(say...)
	}
	planned, impossible := p.Status == view.Planned, p.Explained
	c := s.Comparison
	compared, traded := c != nil && len(c.Ways) > 0, c != nil && c.Trade != nil
	ofLayout := func(say func(Page)) func() { return func() { say(layout) } }
	onFirst := func(part []doc.Block) []doc.Block {
		if planned && !t.chanceMissed() {
			return notPrinted(part, "on the first pages")
		}
		return part
	}
	var train []doc.Block
	if views := drawn("elevation", "plan"); views != nil {
		train = append(lead(drawnTo+bothRunning), views...)
	}

	first := slices.Concat(
		part("answer", "The plan", mark, t.firstPages(layout, drawn)),
		[]doc.Block{doc.Contents{}},
	)
	rest := slices.Concat(
		onFirst(part("first", "First", "", t.said(t.soft))),
		part("clash", "Why there is no plan", mark,
			when(impossible, ofLayout(t.conflict))),
		part("train", t.trainHeading(), mark, train),
		onFirst(part("moves", "Moves, foot by foot", mark, t.said(t.movesOrNearest))),
		part("couplings", "Couplings", mark,
			t.said(t.beforeAndAfter), when(planned, t.drivers), when(planned, t.rest),
			when(planned, t.position)),
		part("holes", "Bolts in their holes, and what is left", mark, drawn("holes"), when(planned, t.reserve)),
		part("packs", "Packs, piece by piece", mark, when(planned, t.packs)),
		part("limits", "What limits the plan, and what relief would bring", mark,
			when(planned, t.ends), when(planned, t.shadowPrices), when(planned, t.account)),
		part("ways", "Strategies and the trade-off", mark,
			when(compared, func() { t.ways(t.formatter, c) }), when(compared, func() { t.obstacles(t.formatter, c) }),
			t.said(func() { t.Items(s.omitted()...) })),
		part("trade", "Closeness against movement", mark,
			drawn("tradeoff"), when(traded, func() { t.trade(t.formatter, c.Trade) })),
		part("readings", "Readings and their checks", mark,
			or(slices.Concat(t.said(func() { t.readings(t.formatter, p.Readings) }),
				t.said(func() { t.survey(t.formatter, p.Survey) })), noReadings)),
		part("growth", "From cold to running", mark, t.said(t.growth)),
		part("errors", "How sure it is", mark, or(t.said(t.sure), t.noChance())),
		part("open", "What was not stated, and inputs to check", mark,
			or(slices.Concat(t.said(t.unstated), t.said(ofLayout(t.warnings))), noneOpen)),
		[]doc.Block{doc.Appendix{Words: "Appendix: to check every number"}},
		notPrinted(part("equations", "The model as equations", "", equations()),
			"on the screen, and in leastmove help model"),
		part("inputs", "Inputs", mark, t.said(t.inputs)),
		t.toCheck(part("signed", "Which way, and moves with signs", mark, drawn("signs"), t.said(t.feetSigned))),
		t.toCheck(part("sums", "Every misalignment as a sum", mark, t.said(t.sums))),
		t.toCheck(part("proof", "What was proven", mark, t.said(t.proof))),
		file.part(),
	)
	for _, b := range rest {
		if section, is := b.(*doc.Section); is {
			section.Folded = true
		}
	}
	blocks := slices.Concat(first, cautionsPart(), rest)
	state := status(p)
	if v := p.Verdict; v != nil && p.Status == view.Planned {
		state += ", " + verdictName(v.Kind)
		if t.warmShort(p.Warm) != nil {
			state += "; over the stated limits in warm-up"
		}
	}
	if mark != "" {
		state += "; " + mark
	}
	title := t.Title()
	return &doc.Doc{
		Title: title, Name: title + ": alignment plan", Numbered: true, Blocks: blocks, Foot: file.foot(),
		Running: title + ", plan " + layout.Number,
		Facts: []doc.Fact{{Name: "plan " + layout.Number, Value: state}, {Name: "units", Value: t.unitWords()},
			{Name: "train file", Value: file.Name, IsName: true}},
	}, err
}

// beforeAndAfter are the couplings, planned beside found where there is a plan.
func (t *planText) beforeAndAfter() {
	if t.plan.Status == view.Planned {
		t.couplings("Couplings before and after", t.plan.Found.Couplings, t.plan.Planned.Couplings)
		t.warmUp(t.formatter, t.plan.Warm, "after the moves")
		return
	}
	t.couplings("Couplings as found", t.plan.Found.Couplings, nil)
	t.warmUp(t.formatter, t.plan.Warm, "as found")
}

func (t *planText) trainHeading() string {
	if t.plan.Status == view.Planned {
		return "The train before and after"
	}
	return "The train as found"
}

func status(p *view.Plan) string {
	switch p.Status {
	case view.Planned:
		return "planned"
	case view.Within:
		return "within limits: nothing to move"
	case view.Impossible:
		return "no plan exists (proven)"
	}
	return "undecided"
}

const (
	drawnTo = "Stations are to scale. Misalignment is drawn much larger than that, by the scale at the foot of " +
		"each figure; heights and distances between shafts are not to scale."
	bothRunning = " Both states are those of the running condition, with growth in them."
	noReadings  = "No coupling has readings: what was found was given as offsets and angles."
	noneOpen    = "The file leaves nothing open that a plan depends on, and no input has to be checked."
)

// unitWords are the units of a page.
func (s formatter) unitWords() string {
	return "lengths in " + s.LengthUnit() + ", moves in " + s.MoveUnit() + ", angles in mrad"
}
