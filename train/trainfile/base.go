package trainfile

import (
	"fmt"
	"slices"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// bases reads the bases and puts them behind the machines. The machines on a base need not be neighbours: one that
// stands on the ground may be between them.
func (r *reader) bases(t *train.Train, file *section, machines []machinePart) {
	names := map[string]tree.Span{}
	for _, part := range machines {
		names[looksOf(part.section.text("name"))] = part.section.at("name")
	}
	carried := map[int]tree.Span{} // machines that stand on a base, and where that is said
	for n, s := range file.subs("base") {
		if n == mostBases {
			r.fault(s.node.Key, fmt.Sprintf("the file has more than %d bases: no more are read", mostBases), "")
			return
		}
		r.unique(names, s, "name", s.text("name"), "the name")
		b := body(s)
		b.Carries = r.carries(t, s, carried)
		if b.Carries == nil {
			continue // it has its fault
		}
		part := machinePart{section: s}
		r.supports(t, file, &b, &part)
		r.carried(&b, &part)
		t.Machines = append(t.Machines, b)
	}
}

// carries are the machines that a base names, ascending; nil where that has a fault.
func (r *reader) carries(t *train.Train, s *section, carried map[int]tree.Span) []int {
	if !s.good("machines") {
		return nil
	}
	f := s.fields["machines"]
	if len(f.names) == 0 {
		r.fault(s.at("machines"), "machines is empty: a base carries one machine or more",
			"name the machines that stand on it, or leave [[base]] out")
	}
	var out []int
	for i, name := range f.names {
		at := f.places[i].Val
		if len(r.byName[name]) == 0 {
			r.fault(at, "no machine is called "+spelling.Quote(name), r.machineHint(t, name))
			return nil
		}
		for _, m := range r.byName[name] {
			if first, there := carried[m]; there {
				r.fault(at, fmt.Sprintf("machine %s stands on a base already", spelling.Quote(name)),
					fmt.Sprintf("the first time on line %d; a machine stands on one base at most", r.line(first.Start)))
				return nil
			}
			carried[m] = at
			out = append(out, m)
		}
	}
	slices.Sort(out)
	return out
}
