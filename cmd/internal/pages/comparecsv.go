package pages

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strings"

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
		rows[0] = append(rows[0], words.Cell("governed by, "+s.Coupling(i)))
		for k := range s.Train.Conditions {
			rows[0] = append(rows[0], words.Cell("use, "+s.Coupling(i)+", "+s.Condition(k)))
		}
	}
	row := func(kind view.WayKind, name string, p *view.Plan, of *view.Outcome, why string) {
		cells := []string{string(kind), words.Cell(name), p.Status.String(), "", "", string(s.Bound(p.Bound)),
			"", "", "", "", "", "", "", "", words.Cell(why)}
		if p.Moves != nil {
			cells[3], cells[4], cells[6] = string(s.Total(p.Total)), string(s.Total(p.Plain)), string(s.Moved(p.Largest))
			cells[7], cells[8] = fmt.Sprint(p.Moved), fmt.Sprint(of.Feet)
			cells[9], cells[10] = fmt.Sprint(of.Pieces), fmt.Sprint(!of.AllPieces)
			cells[11] = string(words.Use(p.Reached))
			if p.Probability != nil {
				cells[12] = string(words.Floor(p.Probability.Within, 4))
			}
			if of.Nearest != nil {
				cells[13] = string(s.Room(of.Nearest.Left))
			}
		}
		for _, u := range p.Used {
			cells = append(cells, words.Cell(s.Condition(u.Governing)))
			for _, share := range u.Shares {
				cells = append(cells, string(words.Use(share)))
			}
		}
		rows = append(rows, cells)
	}
	for n := range c.Ways {
		way := &c.Ways[n]
		row(way.Kind, s.way(way), way.Plan, &way.Outcome, s.obstacle(way))
	}
	if c.Subsets != nil {
		for _, sub := range c.Subsets.Can {
			row("subset", strings.Join(s.Machines(sub.Machines), ", "), sub.Plan, &sub.Outcome, "")
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
		for _, p := range c.Trade.Points {
			rows = append(rows, []string{"trade", "use at most " + string(words.Use(p.Use)), "", string(s.Total(p.Total)), "",
				string(s.Bound(p.Bound)), string(s.Moved(p.Largest)), fmt.Sprint(p.Moved), "", "", "",
				string(words.Use(p.Reached)), "", "", ""})
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
