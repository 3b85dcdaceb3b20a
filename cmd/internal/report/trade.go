package report

import (
	"fmt"
	"math"

	"leastmove/optimize"
)

// trade is the total against the worst use.
func (p *page) trade(s speaker, all *optimize.Trade) {
	p.heading("Movement against the worst use of a coupling limit")
	if len(all.Points) == 0 {
		p.paragraph("", "No plan within the limits was found.")
		return
	}
	p.paragraph("", fmt.Sprintf("From the closest alignment found to all that the limits allow; totals in %s%s. proven: no plan at this use has a smaller total; no steps: the least total if shims and dials had no whole steps.", s.moveUnit(), s.inWeights()))
	g := grid{
		rows:  [][]string{{"use", "total", "proven", "no steps", "largest", "machines", ""}},
		wraps: []bool{false, false, false, false, false, false, false},
		right: []bool{true, true, true, true, true, true, false},
	}
	for n, point := range all.Points {
		mark := ""
		if n == all.Knee {
			mark = "knee"
		}
		total := "none found"
		if t := s.total(point.Total); t != "" {
			total = string(t)
		}
		g.rows = append(g.rows, []string{
			percent(point.Use), total, string(s.bound(point.Bound)), string(s.bound(point.Relaxed)), string(s.moved(point.Peak)), fmt.Sprint(point.Moved), mark,
		})
	}
	p.grid(g)
	p.paragraph("", s.kneeWords(all))
	if all.Convex {
		words := "Without whole steps the curve never rises and bends one way only (verified at these points)."
		if sag := s.total(all.Sag); sag != "" {
			words += fmt.Sprintf(" Between them it lies at most %s below straight lines from point to point.", with(sag, s.moveUnit()))
		}
		p.paragraph("", words+" Totals in whole steps need not bend one way.")
	}
}

// kneeWords says what the knee of the curve buys.
func (s speaker) kneeWords(all *optimize.Trade) string {
	if all.Knee < 0 {
		return "The curve has no knee: closer alignment costs about the same all along it."
	}
	last, knee := all.Points[len(all.Points)-1], all.Points[all.Knee]
	more := "all of " + with(s.total(knee.Total), s.moveUnit())
	if last.Total > 0 {
		more = fmt.Sprintf("%.0f %% more movement", 100*math.Max(0, knee.Total/last.Total-1))
	}
	first := all.Points[0]
	return fmt.Sprintf("At the knee %s brings the worst coupling from %s to %s of its limit; from there to the closest it takes another %s for %s.",
		more, percent(last.Use), percent(knee.Use), with(s.total(first.Total-knee.Total), s.moveUnit()), percent(first.Use))
}

type tradeDoc struct {
	Points []tradePointDoc `json:"points"`
	Convex bool            `json:"convex"`
	Sag    number          `json:"sag"`  // moves: how far "relaxed" lies below straight lines between points at most; null: not known
	Knee   *int            `json:"knee"` // index in points; null: none
}

type tradePointDoc struct {
	Use     number `json:"use"`     // share of the limits
	Reached number `json:"reached"` // share
	Total   number `json:"total"`   // moves; null: none found
	Bound   number `json:"bound"`   // moves, proven
	Relaxed number `json:"relaxed"` // moves, without whole steps
	Peak    number `json:"peak"`    // moves
	Moved   int    `json:"moved"`   // machines
}

func (s speaker) tradeDoc(all *optimize.Trade) *tradeDoc {
	d := &tradeDoc{Points: []tradePointDoc{}, Convex: all.Convex, Sag: s.total(all.Sag)}
	if all.Knee >= 0 {
		d.Knee = &all.Knee
	}
	for _, p := range all.Points {
		d.Points = append(d.Points, tradePointDoc{use(p.Use), use(p.Reached), s.total(p.Total), s.bound(p.Bound), s.bound(p.Relaxed), s.moved(p.Peak), p.Moved})
	}
	return d
}
