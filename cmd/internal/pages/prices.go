package pages

import (
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/words"
)

// prices says what other aims would cost, this plan among them, from all of
// the limits down.
func (t *planText) prices() {
	p := t.plan
	if p.Aims == nil {
		return
	}
	t.Heading("What other margins cost")
	t.Say("Totals marked rough were found in a short search: a longer one may find less, but nothing below " +
		"what is proven.")
	g := doc.Table{Columns: []doc.Column{doc.Fixed("margin"), doc.Fixed("total movement"), doc.Wide("proven")}}
	for _, price := range p.Aims {
		kept, total := hand(price.Use), "none found"
		if n := t.Total(price.Total); n != "" {
			total = words.With(n, t.MoveUnit())
			if !price.This {
				total = "rough " + total
			}
		}
		if price.This {
			kept += ", this plan"
		}
		g.Add(kept, total, t.proven(price.Total, price.Bound))
	}
	t.Table(g)
}

// provenFor is a share of the limits in a sentence on what is proven for it. It is
// rounded down: what is proven for a share is proven for a smaller one.
func provenFor(share float64) string { return words.Floor(100*share, 1).Short() + " %" }

// hand is how much of the limits is left at a share that is proven for, rounded
// up likewise.
func hand(use float64) string { return words.Ceil(100*(1-use), 1).Short() + " %" }

// proven is what is known about the totals at one share of the limits.
func (t *planText) proven(total, bound float64) string {
	switch b := t.Bound(bound); {
	case math.IsInf(bound, 1):
		return "no plan exists"
	case b == "" || b.Zero():
		return "nothing"
	case math.IsNaN(total):
		return "none below " + words.With(b, t.MoveUnit()) + "; there may be none"
	default:
		return "none below " + words.With(b, t.MoveUnit())
	}
}
