package pages

import (
	"fmt"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// byCondition is what a plan uses of the limits of each coupling in each
// condition, and which condition governs the coupling.
func (s formatter) byCondition(used []view.UsedOver) doc.Table {
	g := doc.Table{Columns: []doc.Column{doc.Wide("coupling"), doc.Wide("governed by")}}
	for k := range s.Train.Conditions {
		g.Columns = append(g.Columns, doc.Column{Head: s.Condition(k), Wraps: true, Number: true})
	}
	for i, u := range used {
		row := []string{s.Coupling(i), s.Condition(u.Governing)}
		for _, share := range u.Shares {
			row = append(row, words.Percent(share))
		}
		g.Add(row...)
	}
	return g
}

// drivers says which condition governs each coupling, where there is more than one.
func (t *planText) drivers() {
	if len(t.Train.Conditions) < 2 {
		return
	}
	t.Space()
	g := t.formatter.byCondition(t.plan.Used)
	g.Caption = "The condition that governs each coupling: the one in which it uses most of its limits after the moves."
	t.Table(g)
}

// leastByCondition is the same of the plan of the least total among ways.
func (p *page) leastByCondition(s formatter, way *view.Way) {
	plan := way.Plan
	if plan.Moves == nil {
		return
	}
	p.Heading("Use by condition")
	p.Say(fmt.Sprintf("Of the limits of each coupling by the plan of the %s, and the condition that governs it: "+
		"where it uses most. (Of the other ways: --format json or csv.)", s.way(way)))
	p.Table(s.byCondition(plan.Used))
}
