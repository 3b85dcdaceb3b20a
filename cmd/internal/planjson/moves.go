package planjson

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leastmove/train"
)

// Moves are the plan's moves of a train, whose machines and feet it names. What
// it does not name stays.
func (p *File) Moves(t *train.Train) (train.Moves, Report) {
	m := &matcher{plan: p, t: t, moves: t.Stay()}
	seen := map[int]bool{}
	for i := range p.Machines {
		g := &p.Machines[i]
		at, ok := m.machine(g)
		if !ok {
			continue
		}
		if seen[at] {
			m.fault(g.Place, "machine "+quoted(g.Name)+" is there twice", "put all its feet into one of them")
			continue
		}
		seen[at] = true
		m.set(at, g)
	}
	if len(m.report) > 0 {
		return nil, m.report
	}
	return m.moves, nil
}

// A matcher puts a plan's names against a train.
type matcher struct {
	plan   *File
	t      *train.Train
	moves  train.Moves
	report Report
}

func (m *matcher) fault(at Place, message, hint string) {
	if len(m.report) < mostFaults {
		m.report = append(m.report, at.Fault(message, hint))
	}
}

func quoted(s string) string { return strconv.Quote(short(s)) }

// machine is the train's machine of that name.
func (m *matcher) machine(p *Machine) (int, bool) {
	names := m.t.Names()
	if i := slices.Index(names, p.Name); i >= 0 {
		return i, true
	}
	m.fault(p.Place, fmt.Sprintf("the train has no machine %s", quoted(p.Name)), m.hint(p.Name, names))
	return 0, false
}

func (m *matcher) hint(name string, names []string) string {
	if len(m.report) >= mostFaults {
		return ""
	}
	if near := m.plan.nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	const most = 20
	if len(names) > most {
		return ""
	}
	return "it has " + strings.Join(names, ", ")
}

// set puts what is said of one machine into the moves.
func (m *matcher) set(i int, p *Machine) {
	machine := &m.t.Machines[i]
	said := make([]bool, len(machine.Feet))
	axial, at := m.plan.move0(p.Axial), p.Place.key("axial")
	for n := range p.Feet {
		f := &p.Feet[n]
		feet := Named(machine, f.Name)
		if feet == nil {
			message := fmt.Sprintf("machine %s has no foot %s", quoted(machine.Name), quoted(f.Name))
			m.fault(f.Place, message, m.hint(f.Name, footNames(machine)))
		}
		for _, k := range feet {
			if said[k] {
				message := fmt.Sprintf("foot %s of %s is there twice", quoted(machine.Feet[k].Name), quoted(machine.Name))
				m.fault(f.Place, message, "leave one of them")
			}
			said[k] = true
			m.moves[i][k].Up, m.moves[i][k].Left = m.plan.move0(f.Up), m.plan.move0(f.Left)
		}
		switch own := m.plan.Move(f.Axial); {
		case math.IsNaN(own) || own == axial:
		case axial == 0 && n == 0:
			axial, at = own, f.Place
		default:
			m.fault(f.Place, fmt.Sprintf("machine %s is shifted along the train by different amounts at its feet",
				quoted(machine.Name)), "a machine goes along the train as a whole: give one \"axial\", at the machine")
		}
	}
	if axial != 0 && len(machine.Feet) == 0 {
		m.fault(at, fmt.Sprintf("machine %s has no feet in the train file: its shift along the train can't be set",
			quoted(machine.Name)), "")
	}
	for k := range m.moves[i] {
		m.moves[i][k].Axial = axial
	}
}

// Named are the feet of a machine that a name means: the one of that name, or
// the two of a pair.
func Named(machine *train.Machine, name string) []int {
	var pair []int
	for k := range machine.Feet {
		switch machine.Feet[k].Name {
		case name:
			return []int{k}
		case name + " left", name + " right":
			pair = append(pair, k)
		}
	}
	if len(pair) == 2 {
		return pair
	}
	return nil
}

func footNames(machine *train.Machine) []string {
	var names []string
	for k := range machine.Feet {
		names = append(names, machine.Feet[k].Name)
	}
	return names
}
