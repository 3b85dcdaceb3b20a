package planfile

import (
	"fmt"
	"math"
)

// Edited says where moves of a plan that the program wrote no longer go with what else it
// says of them: somebody changed one or the other. Who only asks what moves do may change
// them; who goes by what was planned may not.
func (p *Plan) Edited() Report {
	const rounding = 0.004 // mm, of what is printed
	const hint = "have it written anew with the train file that it was made for: leastmove plan BEFORE.toml --plan PLAN.json --format json -o FULL.json"
	var out Report
	if !p.Written {
		return nil
	}
	sum, known := 0.0, true
	for i := range p.Machines {
		m := &p.Machines[i]
		for k := range m.Feet {
			f := &m.Feet[k]
			if by := f.Then - f.Now - f.Fill - f.Cut; math.Abs(by-f.Up) > rounding { // not where a pack is not stated
				out = append(out, fault(p.text, f.at, fmt.Sprintf("foot %s of %s is to go up by %.3f mm, and its pack changes by %.3f mm beside what fills its gap or makes up for a cut: one or the other was changed by hand", quoted(f.Name), quoted(m.Name), f.Up, by), hint))
			}
			known = known && !math.IsNaN(f.Axial)
			sum += math.Abs(f.Up) + math.Abs(f.Left) + math.Abs(f.Axial)
		}
	}
	if known && len(out) == 0 && math.Abs(sum-p.Plain) > rounding { // not where it is not stated
		out = append(out, fault(p.text, p.plain, fmt.Sprintf("the moves add up to %.3f mm, and plain says %.3f mm: one or the other was changed by hand", sum, p.Plain), hint))
	}
	return out
}
