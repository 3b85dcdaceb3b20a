package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"leastmove/optimize"
)

// CompareCSV writes the ways as a table for a spreadsheet; subsets follow as ways
// of the kind "subset", points of the trade-off as ways of the kind "trade".
func CompareCSV(w io.Writer, c *Comparison, layout Page) error {
	s := speakerOf(c.Ways[0].Plan.Train)
	unit := " (" + s.moveUnit() + ")"
	out := csv.NewWriter(w)
	rows := [][]string{{
		"kind", "way", "status", "total" + unit, "total without weights" + unit, "proven bound" + unit, "largest move" + unit,
		"machines moved", "feet touched", "worst use", "chance of ending within limits", "left to the nearest foot limit" + unit, "why",
	}}
	row := func(kind optimize.WayKind, name string, d wayDoc, why string) {
		left, reached, moved, touched := number(""), number(""), "", ""
		if d.Reserve != nil {
			left = d.Reserve.Left
		}
		if d.Use != nil {
			reached, moved, touched = d.Use.Reached, fmt.Sprint(*d.Moved), fmt.Sprint(*d.Touched)
		}
		rows = append(rows, []string{
			string(kind), cell(name), d.Status, string(d.Total), string(d.Plain), string(d.Bound), string(d.Peak),
			moved, touched, string(reached), string(d.Chance), string(left), cell(why),
		})
	}
	for _, way := range c.Ways {
		row(way.Kind, s.way(way), s.wayDoc(way), s.obstacle(way))
	}
	if c.Subsets != nil {
		for _, sub := range c.Subsets.Can {
			way := optimize.Way{Kind: "subset", Machine: -1, Plan: sub.Plan}
			row(way.Kind, strings.Join(s.machines(sub.Machines), ", "), s.wayDoc(way), "")
		}
	}
	if c.Trade != nil {
		for _, p := range s.tradeDoc(c.Trade).Points {
			rows = append(rows, []string{"trade", "use at most " + string(p.Use), "", string(p.Total), "", string(p.Bound), string(p.Peak), fmt.Sprint(p.Moved), "", string(p.Reached), "", "", ""})
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}
