package pages

import (
	"encoding/csv"
	"io"
	"slices"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// PlanCSV writes a plan as one table for a spreadsheet: its moves, or with --show couplings its
// couplings. Units stand in the heads of the columns, numbers are as on every other page.
func PlanCSV(w io.Writer, p *view.Plan, layout Page) error {
	s, out := formatterFor(p), csv.NewWriter(w)
	rows := s.movesCSV(p)
	if slices.Contains(layout.Show, "couplings") {
		rows = s.couplingsCSV(p)
	}
	return out.WriteAll(rows)
}

// CSVParts are the parts of a plan that PlanCSV writes, one at a time, the usual one first.
func CSVParts() []string { return []string{"moves", "couplings"} }

// movesCSV has a row for every foot, those that stay too; without a plan it has none.
func (s formatter) movesCSV(p *view.Plan) [][]string {
	unit := " (" + s.MoveUnit() + ")"
	rows := [][]string{{
		"machine", "foot", "x (" + s.LengthUnit() + ")", "held", "shims" + unit + ", + in, - out",
		"sideways" + unit + ", + left, - right", "along the train" + unit + ", + to " + s.Machine(s.Last()),
		"shim pack now" + unit, "shim pack then" + unit, "of the shims: for soft foot" + unit,
		"of the shims: for what comes off foot or base" + unit,
	}}
	for i, feet := range p.Moves {
		m, held := &s.Train.Machines[i], "no"
		if m.Hold {
			held = "yes"
		}
		for f, move := range feet {
			change := p.Changes[i][f]
			row := []string{words.Cell(s.Machine(i)), words.Cell(s.Foot(i, f)), s.Length(m.At + m.Feet[f].X).Short(), held}
			for _, n := range []words.Number{
				s.Moved(change.By()), s.Moved(move.Left), s.Moved(move.Axial), s.Packed(change.Now), s.Packed(change.Then),
				s.Moved(change.Fill), s.Moved(change.Cut),
			} {
				row = append(row, string(n))
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// couplingsCSV has a row for every coupling as found and after the moves in every condition, and one
// for what to read after the moves, cold.
func (s formatter) couplingsCSV(p *view.Plan) [][]string {
	unit, angle := " ("+s.MoveUnit()+")", " (mrad)"
	rows := [][]string{{
		"coupling", "shaft", "relative to", "x (" + s.LengthUnit() + ")", "when", "condition", "share of limit",
		"governed by",
		"offset" + unit + ", + high", "angle" + angle + ", + slopes up", "offset" + unit + ", + left",
		"angle" + angle + ", + points left", "between shaft ends (" + s.LengthUnit() + ")",
	}}
	row := func(i int, when, condition string, r *view.Reading) {
		c, share, by := &s.Train.Couplings[i], "", ""
		if condition != "" {
			share, by = string(words.Use(r.Worst())), view.Governs(r)
		}
		rows = append(rows, []string{
			words.Cell(s.Coupling(i)), words.Cell(s.Shaft(c.To)), words.Cell(s.Shaft(c.From)), s.Length(c.X).Short(),
			when, words.Cell(condition), share, by,
			string(s.Offset(r.V.Offset)), string(s.Angle(r.V.Angle)), string(s.Offset(r.H.Offset)),
			string(s.Angle(r.H.Angle)), string(s.Length(r.Gap)),
		})
	}
	for i := range s.Train.Couplings {
		for k := range s.Train.Conditions {
			row(i, "as found", s.Condition(k), &p.Found.Couplings[i][k])
		}
		if p.Moves == nil {
			continue
		}
		for k := range s.Train.Conditions {
			row(i, "after the moves", s.Condition(k), &p.Planned.Couplings[i][k])
		}
		row(i, "after the moves, to read cold", "", &p.AtRest[i])
	}
	return rows
}
