package planfile

import (
	"fmt"
	"math"

	"leastmove/train"
)

// Rounding in mm is how far lengths and packs of a plan and of a train file may differ
// for the digits that are printed.
const Rounding = 0.02

// Fits says where a plan was not made from the train as the file has it: feet that stand
// elsewhere, and packs that are not those from before the moves.
func (p *Plan) Fits(t *train.Train) Report {
	m := &matcher{plan: p, t: t}
	apart := func(a, b float64) bool { return math.Abs(a-b) > Rounding } // not where one is NaN
	length := func(mm float64) string { return fmt.Sprintf("%.6g %s", mm/t.Units.Length(), t.Units) }
	unit := "mm"
	if t.Units == train.Inches {
		unit = "mil"
	}
	for n := range p.Machines {
		for i := range t.Machines {
			machine := &t.Machines[i]
			if machine.Name != p.Machines[n].Name {
				continue
			}
			for _, f := range p.Machines[n].Feet {
				for _, k := range Named(machine, f.Name) {
					foot := &machine.Feet[k]
					where := quoted(machine.Name) + " " + quoted(foot.Name)
					switch {
					case apart(foot.X, f.X):
						m.fault(f.at, fmt.Sprintf("%s stands at x = %s in the plan, in the train file at %s", where, length(f.X), length(foot.X)), "the plan was made for another train")
					case apart(foot.Y, f.Y):
						m.fault(f.at, fmt.Sprintf("%s stands at y = %s in the plan, in the train file at %s", where, length(f.Y), length(foot.Y)), "the plan was made for another train")
					case apart(foot.Pack, f.Now):
						m.fault(f.at, fmt.Sprintf("the plan was made from a pack of %.6g %s under %s, the train file has %.6g", f.Now/t.Units.Move(), unit, where, foot.Pack/t.Units.Move()),
							"name the train file that the plan was made from, as it was before the moves")
					}
				}
			}
		}
	}
	return m.report
}
