package planjson

import (
	"fmt"

	"leastmove/train"
)

// anew is what to do about a plan that does not go with what else it says.
const anew = "with the train file that it was made for: " +
	"leastmove plan BEFORE.toml --plan PLAN.json --format json -o FULL.json"

// Of are what the plan says of every coupling of a train, in the train's order.
// It must say how each was found, and how it is to stand at rest.
func (p *File) Of(t *train.Train) ([]*Coupling, Report) {
	m := &matcher{plan: p, t: t}
	const write = "have the plan written out, " + anew
	if !p.Written || len(p.Couplings) == 0 {
		m.fault(Place{}, "the plan does not say how the couplings stood and are to stand", write)
		return nil, m.report
	}
	var names []string
	for n := range p.Couplings {
		names = append(names, p.Couplings[n].Name)
	}
	out := make([]*Coupling, len(t.Couplings))
	for i := range t.Couplings {
		c := &t.Couplings[i]
		for n := range p.Couplings {
			if p.Couplings[n].Name != c.Name {
				continue
			}
			if out[i] != nil {
				m.fault(p.Couplings[n].Place, "coupling "+quoted(c.Name)+" is there twice", "leave one of them")
			}
			out[i] = &p.Couplings[n]
		}
		g := out[i]
		from, to := t.ShaftName(c.From), t.ShaftName(c.To)
		switch {
		case g == nil:
			message := fmt.Sprintf("the plan has no coupling %s, the train file has", quoted(c.Name))
			m.fault(Place{}, message, m.hint(c.Name, names))
		case g.From != from || g.To != to:
			m.fault(g.Place, fmt.Sprintf("coupling %s goes from %s to %s, in the train file from %s to %s",
				quoted(c.Name), quoted(g.From), quoted(g.To), quoted(from), quoted(to)),
				"the plan was made for another train")
		case g.Rest == nil:
			message := fmt.Sprintf("the plan does not say how coupling %s is to stand at rest", quoted(c.Name))
			m.fault(g.Place, message, write)
		}
	}
	if len(m.report) > 0 {
		return nil, m.report
	}
	return out, nil
}
