package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// subsets lists which machines can do it with no others moved.
func (p *page) subsets(s formatter, c *view.Comparison) {
	all := c.Subsets
	p.Heading("Which machines can do it alone")
	if len(all.Can) == 0 {
		p.Say("None was found that keeps the aim.")
	} else {
		p.Say(fmt.Sprintf("The machines that are moved, all others staying, and the total movement in %s%s. Left out "+
			"are sets with which nothing keeps the limits, and those whose plan lets one of its machines stay. share: largest "+
			"share of a coupling limit; gap: how much lower than this total the least for these machines can be at most, "+
			"proven.", s.MoveUnit(), inWeights(c.Weighted)))
		g := doc.Table{Columns: []doc.Column{
			doc.Number("machines"), doc.Wide("moved"), doc.Number("total"), doc.Number("largest"),
			doc.Number("share"), doc.Number("gap"),
		}}
		for _, sub := range all.Can {
			g.Add(
				fmt.Sprint(len(sub.Machines)), strings.Join(s.Machines(sub.Machines), ", "), string(s.Total(sub.Plan.Total)),
				string(s.Moved(sub.Plan.Largest)), words.Percent(sub.Plan.Reached), string(words.Ceil(100*sub.Plan.Gap, 1))+" %",
			)
		}
		p.Table(g)
	}
	p.fewer(s, all)
	p.Say(fmt.Sprintf("Of %s: %d can do it, %d more could but need not move all of them, %d cannot (proven), "+
		"%d undecided.",
		words.Plural(all.Sets, "set"), len(all.Can), all.Idle, all.Cannot, all.Undecided))
}

// fewer is the total against how many machines are moved.
func (p *page) fewer(s formatter, all *view.Subsets) {
	if len(all.Curve) == 0 {
		return
	}
	p.Say(fmt.Sprintf("The total (%s) against how many machines are moved, at most; proven: no plan that moves as "+
		"few has a smaller total.", s.MoveUnit()))
	g := doc.Table{Columns: []doc.Column{doc.Number("machines"), doc.Number("total"), doc.Number("proven")}}
	for _, point := range all.Curve {
		total, proven := string(s.Total(point.Total)), string(s.Bound(point.Bound))
		switch {
		case math.IsInf(point.Bound, 1):
			total, proven = "none", "no plan"
		case total == "":
			total = "none found"
		}
		g.Add(fmt.Sprint(point.Moved), total, proven)
	}
	p.Table(g)
}
