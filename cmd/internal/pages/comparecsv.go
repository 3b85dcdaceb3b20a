package pages

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strings"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CompareCSV writes the ways as a table for a spreadsheet; subsets follow as ways
// of the kind "subset", points of the curves as
// ways of the kinds "machines" and "trade".
func CompareCSV(w io.Writer, c *view.Comparison, layout Page) error {
	s := formatterOf(c.Train)
	unit := " (" + s.MoveUnit() + ")"
	out := csv.NewWriter(w)
	rows := [][]string{{
		"kind", "way", "status", "total" + unit, "total without weights" + unit, "proven bound" + unit, "largest move" + unit,
		"machines moved", "feet touched", "shims out and in", "shims: may be more", "worst use",
		"chance of ending within limits", "left to the nearest foot limit" + unit, "why",
	}}
	for i := range s.Train.Couplings {
		rows[0] = append(rows[0], words.Cell("driven by, "+s.Coupling(i)))
		for k := range s.Train.Conditions {
			rows[0] = append(rows[0], words.Cell("use, "+s.Coupling(i)+", "+s.Condition(k)))
		}
	}
	row := func(kind view.WayKind, name string, d planjson.Way, why string) {
		left, reached, moved, touched, pieces, more := words.Number(""), words.Number(""), "", "", "", ""
		if d.Reserve != nil {
			left = d.Reserve.Left
		}
		if d.Use != nil {
			reached, moved, touched = d.Use.Reached, fmt.Sprint(*d.Moved), fmt.Sprint(*d.Touched)
			pieces, more = fmt.Sprint(d.Shims.Pieces), fmt.Sprint(!d.Shims.All)
		}
		rows = append(rows, []string{
			string(kind), words.Cell(name), d.Status, string(d.Total), string(d.Plain), string(d.Bound), string(d.Peak),
			moved, touched, pieces, more, string(reached), string(d.Chance), string(left), words.Cell(why),
		})
		last := len(rows) - 1
		for _, c := range d.Couplings {
			rows[last] = append(rows[last], words.Cell(c.Driven))
			for _, u := range c.Uses {
				rows[last] = append(rows[last], string(u.Use))
			}
		}
	}
	for n := range c.Ways {
		way := &c.Ways[n]
		row(way.Kind, s.way(way), s.wayDoc(way), s.obstacle(way))
	}
	if c.Subsets != nil {
		for _, sub := range c.Subsets.Can {
			way := &view.Way{Kind: "subset", Machine: -1, Plan: sub.Plan, Outcome: sub.Outcome}
			row(way.Kind, strings.Join(s.machines(sub.Machines), ", "), s.wayDoc(way), "")
		}
	}
	if c.Subsets != nil {
		for _, p := range c.Subsets.Curve {
			status := ""
			if math.IsInf(p.Bound, 1) {
				status = view.Impossible.String()
			}
			rows = append(rows, []string{"machines", fmt.Sprintf("at most %d moved", p.Moved), status,
				string(s.Total(p.Total)), "", string(s.Bound(p.Bound))})
		}
	}
	if c.Trade != nil {
		for _, p := range s.tradeDoc(c.Trade).Points {
			rows = append(rows, []string{"trade", "use at most " + string(p.Use), "", string(p.Total), "", string(p.Bound),
				string(p.Peak), fmt.Sprint(p.Moved), "", "", "", string(p.Reached), "", "", ""})
		}
	}
	for n := range rows {
		rows[n] = append(rows[n], make([]string, len(rows[0])-len(rows[n]))...)
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}
