package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// trade is the total against the largest share of a coupling limit.
func (p *page) trade(s formatter, all *view.Trade) {
	p.Heading("Movement against the largest share of a coupling limit")
	if len(all.Points) == 0 {
		p.Say("No plan within the limits was found.")
		return
	}
	p.Say(fmt.Sprintf("From the closest alignment found to all that the limits allow; totals in %s%s. share: the "+
		"worst one is at most that; proven: no plan within it has a smaller total; no steps: the least total "+
		"if shims and dials had no whole steps.",
		s.MoveUnit(), inWeights(all.Weighted)))
	g := doc.Table{Columns: []doc.Column{
		doc.Number("share"), doc.Number("total"), doc.Number("proven"), doc.Number("no steps"),
		doc.Number("largest"), doc.Number("machines"), doc.Fixed(""),
	}}
	for n, point := range all.Points {
		mark := ""
		if n == all.Knee {
			mark = "knee"
		}
		total := "none found"
		if t := s.Total(point.Total); t != "" {
			total = string(t)
		}
		g.Add(
			words.Within(point.Use), total, string(s.Bound(point.Bound)), string(s.Bound(point.Relaxed)),
			string(s.Moved(point.Largest)), fmt.Sprint(point.Moved), mark,
		)
	}
	p.Table(g)
	p.Say(s.kneeWords(all))
	if all.Convex {
		text := "Without whole steps the curve never rises and bends one way only (verified at these points)."
		if sag := s.Total(all.Sag); sag != "" {
			text += fmt.Sprintf(" Between them it lies at most %s below straight lines from point to point.",
				words.With(sag, s.MoveUnit()))
		}
		p.Say(text + " Totals in whole steps need not bend one way.")
	}
}

// kneeWords says what the knee of the curve buys.
func (s formatter) kneeWords(all *view.Trade) string {
	if all.Knee < 0 {
		return "The curve has no knee: closer alignment costs about the same all along it."
	}
	last, knee := all.Points[len(all.Points)-1], all.Points[all.Knee]
	more := "all of " + words.With(s.Total(knee.Total), s.MoveUnit())
	if !math.IsNaN(all.More) {
		more = fmt.Sprintf("%.0f %% more movement", 100*all.More)
	}
	first := all.Points[0]
	return fmt.Sprintf("At the knee %s brings the worst coupling from %s to %s of its limit; from there to the "+
		"closest it takes another %s for %s.",
		more, words.Percent(last.Use), words.Within(knee.Use), words.With(s.Total(all.Closest), s.MoveUnit()),
		words.Within(first.Use))
}
