package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// firstPages are the pages of a report that stand alone: what to do, whether to, the moves drawn and
// as a table, the couplings, and what else there is.
func (t *planText) firstPages(layout Page, drawn func(names ...string) []doc.Block) []doc.Block {
	p := t.plan
	missed := t.chanceMissed()
	planned := p.Status == view.Planned && !missed
	head := func() {
		t.asked(layout)
		t.dependsOn()
		switch {
		case missed:
		case p.Status == view.Planned:
			t.headline()
			t.verdict()
			t.Items(append(t.toConfirm(), without(t.needed())...)...)
			t.standsFound()
		default:
			t.answer()
			t.verdict()
			if p.Status != view.Within {
				t.standsFound()
			}
		}
		t.byStrategy()
		t.assured()
		if planned {
			order := "The crew's work order: leastmove sheet FILE -o sheet.pdf, with the flags of this plan"
			if heldBy(p) != nil {
				order += "; and with --released, once the engineer has decided to carry it out all the same"
			}
			t.Say(order + ".")
		}
	}
	out := slices.Concat(t.said(head), toCautions())
	switch {
	case missed:
		out = slices.Concat(out, t.said(t.raised), drawn("couplings"), t.said(t.othersShort))
	case planned:
		out = slices.Concat(out, t.said(t.softShort), drawn("moves"), t.said(t.movesShort), drawn("couplings"),
			t.said(t.othersShort, t.othersMoves))
	case p.Status == view.Impossible:
		out = slices.Concat(out, t.said(func() { t.options(layout) }), drawn("couplings"))
	default:
		out = slices.Concat(out, drawn("couplings"))
	}
	return out
}

// without is a list of what is said; none of "".
func without(said string) []string {
	if said == "" {
		return nil
	}
	return []string{said}
}

// standsFound says how the train is without any move: how many couplings are outside, and the worst.
func (t *planText) standsFound() {
	all, outside, worst := t.plan.Summary.Couplings, 0, 0
	for n := range all {
		if all[n].Before > 1+view.Fair {
			outside++
		}
		if all[n].Before > all[worst].Before {
			worst = n
		}
	}
	if len(all) > 0 {
		t.Say(t.foundWith(outside, len(all), all[worst].Before, "the worst, "+t.Coupling(all[worst].Coupling)+","))
	}
}

// othersMoves are the moves of this plan and of the others, one of them in view.
func (t *planText) othersMoves() {
	o := t.plan.Others
	if o == nil {
		return
	}
	c := &doc.Choice{Anchor: "moves-of", Legend: "Moves of"}
	add := func(row *view.OtherPlan, label string) {
		g := t.movedTable(view.MovedFeetOf(t.Train, row.Moves))
		g.Caption = fmt.Sprintf("Moves of %s: total %s, worst share of limit %s", label,
			t.totals(row.Plain, row.Total), words.Percent(row.Share))
		var blocks []doc.Block
		if len(g.Rows) > 0 {
			blocks = append(blocks, &g)
		}
		for i, feet := range row.Moves {
			if len(feet) > 0 && !t.Moved(feet[0].Axial).Zero() {
				blocks = append(blocks, doc.Paragraph{Words: words.Capital(t.Machine(i)) + ": " + t.Along(feet[0].Axial) + "."})
			}
		}
		c.Options = append(c.Options, doc.Option{Label: label, Blocks: blocks})
	}
	for n := range o.Rows {
		row := &o.Rows[n]
		if row.This || !row.Found || row.Moves == nil {
			continue
		}
		label := words.Flags(row.Flags)
		if label == "" {
			label = "the plan without flags"
		}
		add(row, label)
	}
	if len(c.Options) > 0 {
		t.Put(c)
	}
}
