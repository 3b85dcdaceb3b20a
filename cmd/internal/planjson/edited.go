package planjson

import (
	"fmt"
	"math"
)

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
