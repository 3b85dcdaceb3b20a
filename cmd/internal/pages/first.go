package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// First is the part of a report that stands alone: verdict, moves, couplings, other plans.
func First(p *view.Plan, layout Page, figures Figures) (*doc.Doc, error) {
	t := &planText{formatter: formatterFor(p), plan: p}
	t.Isolated = true
	t.given = givenBy(p)
	var err error
	drawn := drawnBy(figures, &err)
	blocks := part("answer", "The plan", marks(p), t.firstPages(layout, drawn))
	if p.Explained {
		blocks = slices.Concat(blocks, part("clash", "Why there is no plan", marks(p),
			t.said(func() { t.conflict(layout) })))
	}
	blocks = slices.Concat(blocks,
		part("open", "Inputs to check", "", t.said(t.unstated), t.said(func() { t.warnings(layout) })),
		cautionsPart())
	for _, b := range blocks {
		if section, is := b.(*doc.Section); is && section.Anchor != "answer" && section.Anchor != "clash" {
			section.Folded = true
		}
	}
	return &doc.Doc{Title: t.Title(), Blocks: blocks}, err
}

// drawnBy are the blocks of figures by their names; what goes wrong is kept.
func drawnBy(figures Figures, err *error) func(names ...string) []doc.Block {
	return func(names ...string) []doc.Block {
		var out []doc.Block
		for _, name := range names {
			all, fault := figures(name)
			if fault != nil {
				*err = fault
			}
			out = append(out, blocksOf(all)...)
		}
		return out
	}
}

// A Beside is one of some plans that are set side by side.
type Beside struct {
	Name string
	Plan *view.Plan // nil: there is none yet
	Note string     // in place of figures, where there is none
	Now  bool       // it is the one that the page shows
}

// SideBySide is a table of plans, the first of them the one that the others are held against.
func SideBySide(all []Beside) *doc.Doc {
	var base *view.Plan
	if all[0].Plan != nil {
		base = all[0].Plan
	}
	g := &doc.Table{Caption: "Side by side", Implied: true, Columns: []doc.Column{{Head: ""}}}
	for _, b := range all {
		g.Columns = append(g.Columns, doc.Column{Head: doc.Isolate + words.Clean(b.Name) + doc.Resume, Wraps: true})
	}
	row := func(name string, say func(s *planText, o *view.Outcome) string) {
		cells := []string{name}
		for _, b := range all {
			text := "–"
			if b.Plan != nil {
				s := &planText{formatter: formatterFor(b.Plan), plan: b.Plan}
				s.Isolated = true
				out := view.OutcomeOf(b.Plan)
				text = say(s, &out)
			}
			cells = append(cells, text)
		}
		g.Add(cells...)
	}
	moves := func(say func(s *planText, o *view.Outcome) string) func(s *planText, o *view.Outcome) string {
		return func(s *planText, o *view.Outcome) string {
			if s.plan.Moves == nil {
				return "–"
			}
			return say(s, o)
		}
	}
	row("verdict", func(s *planText, _ *view.Outcome) string { return s.verdictBrief() })
	row("total", moves(func(s *planText, _ *view.Outcome) string {
		return words.With(s.Total(s.plan.Total), s.MoveUnit())
	}))
	if len(all) > 1 {
		row("beside "+doc.Isolate+words.Clean(all[0].Name)+doc.Resume, moves(func(s *planText, _ *view.Outcome) string {
			if base == nil || base.Moves == nil || s.plan == base {
				return "–"
			}
			return s.more(s.plan.Total - base.Total)
		}))
	}
	row("machines", moves(func(s *planText, o *view.Outcome) string {
		if len(o.Machines) == 0 {
			return "none"
		}
		return fmt.Sprintf("%d: %s", len(o.Machines), words.And(s.Machines(o.Machines)))
	}))
	row("feet", moves(func(_ *planText, o *view.Outcome) string { return fmt.Sprint(o.Feet) }))
	row("largest move", moves(func(s *planText, _ *view.Outcome) string {
		return words.With(s.Moved(s.plan.Largest), s.MoveUnit())
	}))
	row("share of limit", moves(func(s *planText, _ *view.Outcome) string { return words.Percent(s.plan.Reached) }))
	row("chance", moves(func(s *planText, _ *view.Outcome) string {
		if s.plan.Chance == nil {
			return "–"
		}
		return chance(s.plan.Chance.Within)
	}))
	return &doc.Doc{Blocks: []doc.Block{g}}
}

// more is a difference of totals.
func (s formatter) more(mm float64) string {
	if s.Total(max(mm, -mm)).Zero() {
		return "the same"
	}
	return words.Signed(s.Total, mm, "+%s ", "−%s ") + s.MoveUnit()
}

// verdictBrief is the verdict in a word or two.
func (t *planText) verdictBrief() string {
	p := t.plan
	switch {
	case p.Status == view.Planned && p.Verdict != nil:
		return map[view.VerdictKind]string{view.CarryOut: "carry out", view.Marginal: "marginal",
			view.NotAdvised: "not advised", view.NotJudged: "not judged"}[p.Verdict.Kind]
	case p.Status == view.Within:
		return "nothing needs to move"
	case p.Explained:
		return "no plan"
	}
	return status(p)
}

// FirstReplay is the same of moves that someone gave: what they do, what breaks and what would mend it.
func FirstReplay(r *view.Replayed, layout Page, figures Figures) (*doc.Doc, error) {
	t := &planText{formatter: formatterFor(r.Plan), plan: r.Plan}
	t.Isolated = true
	t.given = givenBy(r.Plan)
	var err error
	drawn := drawnBy(figures, &err)
	say := func(of func(*view.Replayed)) []doc.Block { return t.said(func() { of(r) }) }
	blocks := part("answer", "The moves that were given", marks(r.Plan),
		t.said(func() { t.asked(layout) }, t.provisional, func() { t.replayed(r) }), toCautions(),
		say(t.breaks), say(t.misfits), say(t.beside),
		drawn("moves"), t.said(t.movesShort), drawn("couplings"))
	return &doc.Doc{Title: t.Title(), Blocks: slices.Concat(blocks, cautionsPart())}, err
}

// Advice are the options of a train without a plan in words, in the order of their numbers.
func Advice(p *view.Plan) []string {
	f := formatterFor(p)
	f.Isolated = true
	var out []string
	for _, r := range p.Relaxations {
		out = append(out, words.Capital(f.advice(r)))
	}
	return out
}

// InBrief is what comes of a plan, in a sentence.
func InBrief(p *view.Plan) string {
	t := &planText{formatter: formatterFor(p), plan: p}
	text := words.Capital(t.verdictBrief())
	if p.Moves == nil {
		return text + "."
	}
	out := view.OutcomeOf(p)
	return fmt.Sprintf("%s: total %s, %s moved, worst share of limit %s.", text,
		words.With(t.Total(p.Total), t.MoveUnit()), words.Plural(len(out.Machines), "machine"), words.Percent(p.Reached))
}

// OtherInBrief is a plan beside another one, in a few words.
func OtherInBrief(p *view.Plan, row *view.OtherPlan) string {
	f := formatterFor(p)
	label := words.Flags(row.Flags)
	if label == "" {
		label = "as filed"
	}
	return fmt.Sprintf("%s: %s, %s", label, words.With(f.Total(row.Total), f.MoveUnit()), words.Plural(len(row.Machines),
		"machine"))
}
