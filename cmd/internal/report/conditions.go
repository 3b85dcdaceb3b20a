package report

import (
	"fmt"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/train"
)

// driving is the condition in which a coupling takes up most of its limits.
func driving(conditions []train.Reading) int {
	most := 0
	for k := range conditions {
		if conditions[k].Worst() > conditions[most].Worst() {
			most = k
		}
	}
	return most
}

// byCondition is what a plan takes up of the limits of each coupling in each
// condition, and which condition drives the coupling.
func (p *page) byCondition(s formatter, planned [][]train.Reading) {
	g := grid{rows: [][]string{{"coupling", "driven by"}}, wraps: []bool{true, true}, right: []bool{false, false}}
	for k := range s.Train.Conditions {
		g.rows[0] = append(g.rows[0], s.Condition(k))
		g.wraps, g.right = append(g.wraps, true), append(g.right, true)
	}
	for i := range planned {
		row := []string{s.Coupling(i), s.Condition(driving(planned[i]))}
		for k := range planned[i] {
			row = append(row, words.Percent(planned[i][k].Worst()))
		}
		g.rows = append(g.rows, row)
	}
	p.grid(g)
}

// drivers says which condition drives each coupling, where there is more than one.
func (t *planText) drivers() {
	if len(t.Train.Conditions) < 2 {
		return
	}
	t.blank()
	t.caption("", "Which condition drives each coupling: the one in which it takes up most of its limits after the moves.")
	t.byCondition(t.formatter, t.plan.Planned.Couplings)
}

// leastByCondition is the same of the plan of the least total among ways.
func (p *page) leastByCondition(s formatter, ways []optimize.Way) {
	plan := ways[0].Plan
	if plan.Moves == nil {
		return
	}
	p.heading("Use by condition")
	p.paragraph("", fmt.Sprintf("Of the limits of each coupling by the plan of the %s, and the condition that drives it: where it takes up most. (Of the other ways: --format json or csv.)", s.way(ways[0])))
	p.byCondition(s, plan.Planned.Couplings)
}

func (s formatter) drivenDocs(planned [][]train.Reading) []planjson.Driven {
	var docs []planjson.Driven
	for i := range planned {
		d := planjson.Driven{Name: s.Coupling(i), Driven: s.Condition(driving(planned[i]))}
		for k := range planned[i] {
			d.Uses = append(d.Uses, planjson.Use{Condition: s.Condition(k), Use: words.Use(planned[i][k].Worst())})
		}
		docs = append(docs, d)
	}
	return docs
}
