package report

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// triple are before, planned and after of every coupling.
func (v *verified) triple() {
	v.heading("Before, planned and after")
	v.paragraph("", v.offsetsAtX())
	for i := range v.Train.Couplings {
		c := &v.Train.Couplings[i]
		g := grid{wraps: []bool{true, false, false, false}, joint: ", "}
		for k := range v.Train.Conditions {
			if k > 0 {
				g.rows = append(g.rows, make([]string, 4))
			}
			s := &v.r.Couplings[i].Conditions[k]
			now := diagnose.Standing{Misalignment: s.Now.Misalignment, Gap: s.Now.Gap}
			g.rows = append(g.rows, []string{v.Condition(k), "before", "planned", "after"})
			g.rows = append(g.rows, []string{"of its limit", v.taken(s.UseBefore), v.taken(s.UsePlanned), v.taken(s.Now.Worst())})
			w := worst(&s.Now)
			by := w.Kind.String()
			if w.Kind == train.Gap {
				by = "shaft ends"
			}
			g.rows = append(g.rows, []string{"taken up by", "", "", by})
			all := []diagnose.Standing{s.Before, s.Planned, now}
			row := func(name string, of func(diagnose.Standing) string) {
				cells := []string{name}
				for _, a := range all {
					cells = append(cells, of(a))
				}
				g.rows = append(g.rows, cells)
			}
			row("up and down", func(a diagnose.Standing) string { return v.tell(v.Offset, a.V.Offset, "%s high", "%s low") })
			row("", func(a diagnose.Standing) string { return v.tell(v.Angle, a.V.Angle, "climbs %s", "falls %s") })
			row("sideways", func(a diagnose.Standing) string { return v.tell(v.Offset, a.H.Offset, "%s left", "%s right") })
			row("", func(a diagnose.Standing) string {
				return v.tell(v.Angle, a.H.Angle, "turns left %s", "turns right %s")
			})
			if !math.IsNaN(now.Gap) {
				row("shaft ends", func(a diagnose.Standing) string { return v.tell(v.Length, a.Gap, "%s", "%s") })
			}
		}
		v.blank()
		v.caption("", v.against(i)+v.planes(c)+v.wanted(c))
		v.grid(g)
	}
}

// taken is a share of a limit in a narrow column.
func (v *verified) taken(use float64) string {
	if math.IsNaN(use) {
		return "not known"
	}
	if use > 1+words.Fair {
		return words.Percent(use) + ", outside"
	}
	return words.Percent(use)
}

func (v *verified) tell(print func(float64) words.Number, x float64, plus, minus string) string {
	if math.IsNaN(x) {
		return "not known"
	}
	return words.Signed(print, x, plus, minus)
}

// offPlan is what every coupling is off the plan, beside what errors make.
func (v *verified) offPlan() {
	v.heading("Off the plan, cold and at rest")
	v.paragraph("", fmt.Sprintf("After less planned, and what errors of reading (before and after) and of placing make in 95 of 100 trains. Offsets in %s, angles in mrad.", v.MoveUnit()))
	g := grid{rows: [][]string{{"coupling", "what", "off by", "errors", ""}}, wraps: []bool{true, false, false, false, false}, names: 2}
	for i := range v.r.Couplings {
		c := &v.r.Couplings[i]
		e := &v.r.Verdict.Couplings[i]
		row := func(what string, now, planned, standard float64, print func(float64) words.Number, plus, minus string) {
			off, half := now-planned, train.Half95*standard
			if math.IsNaN(off) {
				return
			}
			more := ""
			if math.Abs(off) > half {
				more = "more"
			}
			g.rows = append(g.rows, []string{v.Coupling(i), what, words.Signed(print, off, plus, minus), "± " + string(print(half)), more})
		}
		row("offset, up and down", c.Now.V.Offset, c.Planned.V.Offset, e.V.Offset, v.Offset, "%s high", "%s low")
		row("angle, up and down", c.Now.V.Angle, c.Planned.V.Angle, e.V.Angle, v.Angle, "climbs %s", "falls %s")
		row("offset, sideways", c.Now.H.Offset, c.Planned.H.Offset, e.H.Offset, v.Offset, "%s left", "%s right")
		row("angle, sideways", c.Now.H.Angle, c.Planned.H.Angle, e.H.Angle, v.Angle, "turns left %s", "turns right %s")
		row("shaft ends", c.Now.Gap, c.Planned.Gap, e.Gap, v.Length, "%s wider", "%s closer")
	}
	v.grid(g)
}

// motions is how the machines went, as far as the couplings tell.
func (v *verified) motions() {
	v.heading("How the machines went, as far as the couplings tell")
	if v.stays() {
		v.paragraph("", "The plan moved nothing.")
		return
	}
	v.paragraph("", fmt.Sprintf("In %s, up and down and then sideways: planned, and what the readings make most likely, with what that may be off in 95 of 100. Couplings see machines against each other: where errors of placing are all that is known of a foot, the planned move stands.", v.MoveUnit()))
	if w := v.r.Verdict; len(w.Suspects) > 0 {
		v.paragraph("", "Worked out as if "+v.place(&w.Suspects[0].Fault)+" were what went otherwise.")
	}
	g := grid{rows: [][]string{{"station", "planned", "went", "planned", "went"}}, wraps: []bool{true, false, false, false, false},
		header: []string{"machine", "station", "up and down, planned", "up and down, went", "sideways, planned", "sideways, went"}}
	short := func(n float64, plus, minus string) string { return words.Signed(v.Offset, n, plus+" %s", minus+" %s") }
	for i := range v.r.Verdict.Machines {
		if !v.r.Moves.Moved(i) {
			continue
		}
		g.rows = append(g.rows, []string{v.Machine(i), "", "", "", ""})
		for _, s := range v.r.Verdict.Machines[i].Stations {
			g.rows = append(g.rows, []string{
				"- " + v.stood(i, s.Feet),
				short(s.PlannedUp, "up", "down"), short(s.Up, "up", "down") + " ± " + string(v.Offset(s.HalfUp)),
				short(s.PlannedLeft, "left", "right"), short(s.Left, "left", "right") + " ± " + string(v.Offset(s.HalfLeft)),
			})
		}
	}
	v.grid(g)
}

// stays says whether the plan moved nothing.
func (v *verified) stays() bool {
	for i := range v.r.Moves {
		if v.r.Moves.Moved(i) {
			return false
		}
	}
	return true
}

// stood names a foot station: a pair by its table.
func (v *verified) stood(i int, feet []int) string {
	if len(feet) == 2 {
		if table, pair := v.Pair(i, feet[0], feet[1]); pair {
			return table
		}
	}
	return v.FeetOf(i, feet)
}
