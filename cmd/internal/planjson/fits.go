package planjson

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// Fits says where a plan was not made from the train as the file has it: feet that stand
// elsewhere, and packs that are not those from before the moves.
func (p *File) Fits(t *train.Train) Report {
	m := &matcher{plan: p, t: t}
	for n := range p.Machines {
		for i := range t.Machines {
			machine := &t.Machines[i]
			if machine.Name != p.Machines[n].Name {
				continue
			}
			for k := range p.Machines[n].Feet {
				f := &p.Machines[n].Feet[k]
				for _, k := range Named(machine, f.Name) {
					m.fits(f, &machine.Feet[k], quoted(machine.Name)+" "+quoted(machine.Feet[k].Name))
				}
			}
		}
	}
	return m.report
}

// fits holds one foot of a plan against the train's; where is its name.
func (m *matcher) fits(f *Foot, foot *train.Foot, where string) {
	u := m.t.Units
	apart := func(a, b float64) bool { return math.Abs(a-b) > view.FileRounding } // not where one is NaN
	length := func(mm float64) string { return fmt.Sprintf("%.6g %s", mm/u.Length(), u) }
	unit := "mm"
	if u == train.Inches {
		unit = "mil"
	}
	const another = "the plan was made for another train"
	const elsewhere = "%s stands at %s = %s in the plan, in the train file at %s"
	x, y := m.plan.Length(f.X), m.plan.Length(f.Y)
	now := m.plan.PackChangeOf(f).Now
	switch {
	case apart(foot.X, x):
		m.fault(f.Place, fmt.Sprintf(elsewhere, where, "x", length(x), length(foot.X)), another)
	case apart(foot.Y, y):
		m.fault(f.Place, fmt.Sprintf(elsewhere, where, "y", length(y), length(foot.Y)), another)
	case apart(foot.Pack, now):
		message := fmt.Sprintf("the plan was made from a pack of %.6g %s under %s, the train file has %.6g",
			now/u.Move(), unit, where, foot.Pack/u.Move())
		m.fault(f.Place, message, "name the train file that the plan was made from, as it was before the moves")
	}
}

// Edited says where moves of a plan that the program wrote no longer go with what else it
// says of them: somebody changed one or the other. Who only asks what moves do may change
// them; who goes by what was planned may not.
func (p *File) Edited() Report {
	const rounding = 0.004 // mm, of what is printed
	const hint = "have it written anew " + anew
	var out Report
	if !p.Written {
		return nil
	}
	sum, known := 0.0, true
	for i := range p.Machines {
		m := &p.Machines[i]
		for k := range m.Feet {
			f := &m.Feet[k]
			c, axial := p.PackChangeOf(f), p.Move(f.Axial)
			if math.Abs(c.Off()) > rounding { // not where a pack is not stated
				out = append(out, f.Place.Fault(fmt.Sprintf("foot %s of %s is to go up by %.3f mm, "+
					"and its pack changes by %.3f mm beside what fills its gap or makes up for a cut: "+
					"one or the other was changed by hand", quoted(f.Name), quoted(m.Name), c.Move, c.Move+c.Off()), hint))
			}
			known = known && !math.IsNaN(axial)
			sum += math.Abs(c.Move) + math.Abs(p.LeftOf(f)) + math.Abs(axial)
		}
	}
	plain := p.Move(p.Plain)
	if known && len(out) == 0 && math.Abs(sum-plain) > rounding { // not where it is not stated
		out = append(out, p.Place.key("plain").Fault(fmt.Sprintf("the moves add up to %.3f mm, and plain says %.3f mm: "+
			"one or the other was changed by hand", sum, plain), hint))
	}
	return out
}
