package trainfile

import (
	"fmt"

	"leastmove/train"
)

// running is the name of the condition that always applies.
const running = "running"

// conditions reads the conditions; "running" comes first, and is there whether
// the file gives it or not.
func (r *reader) conditions(t *train.Train, file *section) {
	names := map[string]span{}
	first := train.Condition{Name: running, Growth: filled(len(t.Machines), 1), Run: 1, Use: 1}
	var others []train.Condition
	for _, s := range file.subs("condition") {
		r.unique(names, s, "name", s.text("name", ""), "condition")
		c := train.Condition{
			Name:   s.text("name", ""),
			Growth: filled(len(t.Machines), s.number("growth", 1)),
			Run:    s.number("run", 1),
			Use:    s.number("use", 1),
		}
		if f := s.fields["machine"]; f != nil && f.node.isTable {
			for i, name := range f.names {
				if len(r.byName[name]) == 0 {
					r.fault(f.places[i].key, "no machine is called "+quote(name), r.machineHint(t, name))
					continue
				}
				for _, m := range r.byName[name] {
					c.Growth[m] = f.numbers[i]
				}
			}
		}
		if s.good("use") && c.Use > 1 {
			r.doubt(s.at("use"), fmt.Sprintf("use is %s: the coupling limits may be exceeded in condition %s", r.value(s, "use", Bare), quote(c.Name)),
				"this needs the coupling maker's figures for that state")
		}
		if c.Name == running {
			first = c
		} else {
			others = append(others, c)
		}
	}
	t.Conditions = append([]train.Condition{first}, others...)
}

func (r *reader) machineHint(t *train.Train, name string) string {
	var names []string
	for i := range t.Machines {
		if t.Machines[i].Name != "" {
			names = append(names, t.Machines[i].Name)
		}
	}
	if near := r.nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %s?", quote(near))
	}
	if len(names) > 20 {
		return ""
	}
	return "known: " + list(names)
}

func filled(n int, v float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = v
	}
	return s
}
