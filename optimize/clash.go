package optimize

import (
	"math"
	"slices"

	"leastmove/optimize/lattice"
	"leastmove/optimize/search"
)

// clash finds limits that cannot hold together, by leaving out one after
// another whatever is not needed for the proof that nothing is feasible: those
// of one foot's pack, one bolt hole, one coupling in one condition at a time.
// What is left is one such set; there may be others. Where the limits could
// hold together if shims and dials had no steps, the set is said to be of the
// steps and of every coupling: no smaller proof was looked for.
func (m *maker) clash() []Limit {
	k := m.task
	full := lattice.Goal{Use: 1}
	if !search.Relax(&k.problem, full).Impossible() {
		set := []Limit{{Kind: LimitSteps, Machine: -1, Foot: -1, Nozzle: -1, Coupling: -1, Condition: -1}}
		for _, l := range k.labels {
			if l.Coupling >= 0 {
				set = appendNew(set, l)
			}
		}
		return set
	}
	p := k.problem
	p.Vars = append([]lattice.Var(nil), p.Vars...)
	labels := append([]Limit(nil), k.labels...)
	var set []Limit
	groups := k.ranges()
	for _, l := range k.labels {
		groups = appendNew(groups, l)
	}
	for _, g := range groups {
		trial, kept := p, labels
		if v := k.variable(g); v >= 0 {
			trial.Vars = append([]lattice.Var(nil), p.Vars...)
			switch g.Kind {
			case LimitLower:
				trial.Vars[v].Lo = -Reach
			case LimitRaise:
				trial.Vars[v].Hi = Reach
			default:
				trial.Vars[v].Lo, trial.Vars[v].Hi = -Reach, Reach
			}
		} else {
			trial.Limits, kept = nil, nil
			for i, l := range labels {
				if l != g {
					trial.Limits, kept = append(trial.Limits, p.Limits[i]), append(kept, l)
				}
			}
		}
		if search.Relax(&trial, full).Impossible() {
			p, labels = trial, kept
			continue
		}
		set = append(set, g)
		if v := k.variable(g); v >= 0 {
			for _, f := range k.feet[v].feet[1:] {
				g.Foot = f // set together with the first, so bound together
				set = append(set, g)
			}
		}
	}
	return set
}

func appendNew(set []Limit, l Limit) []Limit {
	if slices.Contains(set, l) {
		return set
	}
	return append(set, l)
}

// ranges are the limits that bound single variables, each named for the first
// foot that sets it.
func (k *task) ranges() []Limit {
	var out []Limit
	for v, g := range k.feet {
		l := Limit{Machine: g.machine, Foot: g.feet[0], Nozzle: -1, Coupling: -1, Condition: -1}
		kinds := []LimitKind{LimitLower, LimitRaise}
		if g.act == side {
			kinds = []LimitKind{LimitTravel}
		} else if g.act == axial {
			continue
		}
		for _, kind := range kinds {
			if open := k.problem.Vars[v]; kind == LimitLower && open.Lo == -Reach || kind == LimitRaise && open.Hi == Reach ||
				kind == LimitTravel && math.Max(-open.Lo, open.Hi) == Reach {
				continue
			}
			l.Kind = kind
			out = append(out, l)
		}
	}
	return out
}

// variable is the one whose range a limit bounds; -1: it bounds none.
func (k *task) variable(l Limit) int {
	for v, g := range k.feet {
		if g.machine == l.Machine && g.feet[0] == l.Foot {
			if (l.Kind == LimitLower || l.Kind == LimitRaise) && g.act == shim || l.Kind == LimitTravel && g.act == side {
				return v
			}
		}
	}
	return -1
}
