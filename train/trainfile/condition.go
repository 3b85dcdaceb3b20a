package trainfile

import (
	"fmt"
	"slices"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// running is the name of the condition that always applies.
const running = "running"

// conditions reads the conditions; "running" comes first, and is there whether
// the file gives it or not.
func (r *reader) conditions(t *train.Train, file *section) {
	names := map[string]tree.Span{}
	first := train.Condition{Name: running, Growth: slices.Repeat([]float64{1}, len(t.Machines)), Run: 1, Use: 1}
	var others []train.Condition
	for n, s := range file.subs("condition") {
		if n == mostConditions {
			r.fault(s.node.Key, fmt.Sprintf("the file has more than %d conditions: no more are read", mostConditions), "")
			break
		}
		r.unique(names, s, "name", s.text("name"), "condition")
		c := train.Condition{
			Name:   s.text("name"),
			Growth: slices.Repeat([]float64{r.shareOf(s)}, len(t.Machines)),
			Run:    s.number("run"),
			Use:    s.number("use"),
		}
		if f := s.fields["machine"]; f != nil && f.node.IsTable {
			for i, name := range f.names {
				if len(r.byName[name]) == 0 {
					r.fault(f.places[i].Key, "no machine is called "+spelling.Quote(name), r.machineHint(t, name))
					continue
				}
				for _, m := range r.byName[name] {
					c.Growth[m] = f.numbers[i]
				}
			}
		}
		r.own(t, s, &c)
		if s.good("use") && c.Use > 1 {
			r.warn(s.at("use"), fmt.Sprintf("use is %s: the coupling limits may be exceeded in condition %s",
				r.value(s, "use", Bare), spelling.Quote(c.Name)),
				"this needs the coupling maker's figures for that state")
		}
		if c.Name == running {
			first = c
			r.warnCold(t, s, c)
		} else {
			others = append(others, c)
		}
	}
	t.Conditions = append([]train.Condition{first}, others...)
}

// shareOf is the share of every machine's growth that a condition has: all of it where it has growth of its own.
func (r *reader) shareOf(s *section) float64 {
	if s.subs("growth") != nil {
		return 1
	}
	return s.number("growth")
}

// own reads the growth that a condition has of its own, machine by machine.
func (r *reader) own(t *train.Train, s *section, c *train.Condition) {
	stations := map[string][]*section{}
	var names []string
	for _, g := range s.subs("growth") {
		name := g.text("machine")
		switch {
		case !g.good("machine"):
			continue
		case len(r.byName[name]) == 0:
			r.fault(g.at("machine"), "no machine is called "+spelling.Quote(name), r.machineHint(t, name))
			continue
		}
		if stations[name] == nil {
			names = append(names, name)
		}
		stations[name] = append(stations[name], g)
	}
	for _, name := range names {
		if f := s.fields["machine"]; f != nil && slices.Contains(f.names, name) {
			r.fault(stations[name][0].at("machine"),
				fmt.Sprintf("the growth of %s in condition %s is given twice: here and as a share",
					spelling.Quote(name), spelling.Quote(c.Name)), "leave one of them out")
		}
		for _, m := range r.byName[name] {
			c.Own = append(c.Own, train.OwnGrowth{Machine: m, Growth: r.stations(stations[name], t.Machines[m].Height)})
		}
	}
}

// warnCold warns of a running condition that is a cold one: its name takes the
// growth out of the one condition that always applies.
func (r *reader) warnCold(t *train.Train, s *section, c train.Condition) {
	if len(c.Growth) == 0 || c.Own != nil || slices.ContainsFunc(c.Growth, func(v float64) bool { return v != 0 }) ||
		!grows(t) {
		return
	}
	key := "growth"
	if !s.has(key) {
		key = "machine"
	}
	r.warn(s.key(key), fmt.Sprintf("condition %q has none of the growth: the train is then planned for standing cold",
		running),
		"this name stands for the one condition that always applies; for a cold start give another name")
}

// grows says whether a shaft of the train grows at all.
func grows(t *train.Train) bool {
	none := func(g *train.Growth) bool {
		return g.V == train.Line{} && g.H == train.Line{} && g.A == train.Line{} && g.Roll == 0
	}
	for i := range t.Machines {
		m := &t.Machines[i]
		if !none(&m.Growth) || slices.ContainsFunc(m.Shafts,
			func(s train.Shaft) bool { return s.Growth != nil && !none(s.Growth) }) {
			return true
		}
	}
	return false
}

func (r *reader) machineHint(t *train.Train, name string) string {
	names := slices.DeleteFunc(t.Names(), func(name string) bool { return name == "" })
	if near := r.nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %s?", spelling.Quote(near))
	}
	if len(names) > 20 {
		return ""
	}
	return "known: " + list(names)
}
