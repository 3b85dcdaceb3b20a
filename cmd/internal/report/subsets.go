package report

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// subsets lists which machines can do it with no others moved.
func (p *page) subsets(s formatter, all *optimize.Subsets) {
	p.heading("Which machines can do it alone")
	if len(all.Can) == 0 {
		p.paragraph("", "None was found that keeps the aim.")
	} else {
		p.paragraph("", fmt.Sprintf("The machines that are moved, all others staying, and the total movement in %s%s. Left out are sets with which nothing keeps the limits, and those whose plan lets one of its machines stay. gap: how far the total may be above the least for these machines, proven.", s.MoveUnit(), s.inWeights()))
		g := grid{
			rows:  [][]string{{"machines", "moved", "total", "largest", "use", "gap"}},
			wraps: []bool{false, true, false, false, false, false},
			right: []bool{true, false, true, true, true, true},
		}
		for _, sub := range all.Can {
			g.rows = append(g.rows, []string{
				fmt.Sprint(len(sub.Machines)), strings.Join(s.machines(sub.Machines), ", "), string(s.Total(sub.Plan.Total)),
				string(s.Moved(sub.Plan.Largest)), words.Percent(sub.Plan.Reached), string(words.Ceil(100*gapOf(sub.Plan), 1)) + " %",
			})
		}
		p.grid(g)
	}
	p.fewer(s, all)
	p.paragraph("", fmt.Sprintf("Of %s: %d can do it, %d more could but need not move all of them, %d cannot (proven), %d undecided.",
		words.Plural(len(all.Can)+all.Idle+all.Cannot+all.Undecided, "set"), len(all.Can), all.Idle, all.Cannot, all.Undecided))
}

// fewer is the total against how many machines are moved.
func (p *page) fewer(s formatter, all *optimize.Subsets) {
	if len(all.Curve) == 0 {
		return
	}
	p.paragraph("", fmt.Sprintf("The total (%s) against how many machines are moved, at most; proven: no plan that moves as few has a smaller total.", s.MoveUnit()))
	g := grid{
		rows:  [][]string{{"machines", "total", "proven"}},
		wraps: []bool{false, false, false},
		right: []bool{true, true, true},
	}
	for _, point := range all.Curve {
		total, proven := string(s.Total(point.Total)), string(s.Bound(point.Bound))
		switch {
		case math.IsInf(point.Bound, 1):
			total, proven = "none", "no plan"
		case total == "":
			total = "none found"
		}
		g.rows = append(g.rows, []string{fmt.Sprint(point.Moved), total, proven})
	}
	p.grid(g)
}

// machines are the names of some machines.
func (s formatter) machines(some []int) []string {
	names := make([]string, len(some))
	for n, i := range some {
		names[n] = s.Machine(i)
	}
	return names
}
