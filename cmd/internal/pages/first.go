package pages

import (
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
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
	return folded(t, blocks), err
}

// folded is a page of sections, those folded that come after the answer.
func folded(t *planText, blocks []doc.Block) *doc.Doc {
	for _, b := range blocks {
		if section, is := b.(*doc.Section); is && section.Anchor != "answer" && section.Anchor != "clash" {
			section.Folded = true
		}
	}
	return &doc.Doc{Title: t.Title(), Blocks: blocks}
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
	return folded(t, slices.Concat(blocks, cautionsPart())), err
}
