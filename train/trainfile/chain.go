package trainfile

import (
	"fmt"
	"slices"

	"leastmove/train"
	"leastmove/train/spelling"
)

// chain faults couplings and machines that do not make a train, and puts the
// couplings in its order: Couplings[i] joins Machines[i] to Machines[i+1].
// Where the list of machines or couplings is not whole, what is missing from
// it is not said again.
func (r *reader) chain(t *train.Train, machines []machinePart, couplings []couplingPart, whole bool) {
	for _, c := range couplings {
		whole = whole && c.joined
	}
	joins := make([]int, len(t.Machines)) // by the first machine: 1 + the index of its coupling
	coupled := make([]bool, len(t.Machines))
	pairs := map[[2]int]int{}
	partners := make([][]int, len(t.Machines))
	for i, c := range couplings {
		if !c.joined {
			continue
		}
		from, to := c.coupling.From.Machine, c.coupling.To.Machine
		coupled[from], coupled[to] = true, true
		if from == to {
			r.fault(c.section.at("to"), fmt.Sprintf("coupling %s joins machine %s to itself",
				spelling.Quote(c.coupling.Name), spelling.Quote(t.Machines[from].Name)), "")
			continue
		}
		pair := [2]int{min(from, to), max(from, to)}
		if first, there := pairs[pair]; there {
			r.fault(c.section.node.Key, fmt.Sprintf("machines %s and %s are coupled twice",
				spelling.Quote(t.Machines[from].Name), spelling.Quote(t.Machines[to].Name)),
				fmt.Sprintf("the first time on line %d", r.line(couplings[first].section.node.Key.Start)))
			continue
		}
		pairs[pair] = i
		partners[from] = append(partners[from], i)
		partners[to] = append(partners[to], i)
		joins[pair[0]] = i + 1
		whole = r.direction(t, c) && whole
	}
	inRow := whole && len(machines) > 1
	for i := range t.Machines {
		name := spelling.Quote(t.Machines[i].Name)
		switch {
		case !coupled[i] && whole && len(machines) > 1:
			r.fault(machines[i].section.node.Key, fmt.Sprintf("machine %s is coupled to nothing", name),
				"write a [[coupling]] to its neighbour")
			inRow = false
		case len(partners[i]) > 2:
			third := couplings[partners[i][2]].section
			r.fault(third.node.Key, fmt.Sprintf("machine %s has a third coupling: a train does not branch", name), "")
			inRow = false
		}
	}
	if !inRow || !r.neighbours(t, machines, couplings, joins, pairs) {
		return
	}
	for i := range len(t.Machines) - 1 {
		t.Couplings = append(t.Couplings, couplings[joins[i]-1].coupling)
	}
	if !r.order(t, machines) {
		return
	}
	for _, c := range couplings {
		if r.plane(t, c) {
			r.reach(t, machines, c)
			r.overlap(t, machines, c)
		}
	}
}

// direction faults a coupling whose ends are the wrong way round.
func (r *reader) direction(t *train.Train, c couplingPart) bool {
	from, to := c.coupling.From.Machine, c.coupling.To.Machine
	if from < to {
		return true
	}
	r.fault(c.section.at("from"), fmt.Sprintf("coupling %s goes from %s to %s, but %s is nearer the start of the train",
		spelling.Quote(c.coupling.Name), spelling.Quote(t.Machines[from].Name), spelling.Quote(t.Machines[to].Name),
		spelling.Quote(t.Machines[to].Name)),
		"swap from and to; "+turned(c.section))
	return false
}

// turned says what else to do where from and to of a coupling are swapped.
func turned(s *section) string {
	var signs []string
	states := func(e *section) bool { return e.has("v") || e.has("h") }
	for _, key := range [...]string{"found", "wanted"} {
		if states(s.sub(key)) {
			signs = append(signs, key)
		}
	}
	offsets := slices.ContainsFunc(s.subs("reading"), states)
	if offsets {
		signs = append(signs, "the readings of offsets")
	}
	says := "nothing else changes"
	if len(signs) > 0 {
		says = "turn the signs of v and h in " + together(signs)
	}
	if s.has("reading") && !(offsets && len(s.subs("reading")) == 1) {
		says += "; dials stay as they are: on names their shaft"
	}
	return says
}

// neighbours faults a ring, a gap, and machines that are not listed in the
// order of the train.
func (r *reader) neighbours(t *train.Train, machines []machinePart, couplings []couplingPart, joins []int,
	pairs map[[2]int]int) bool {
	if len(pairs) == len(t.Machines) {
		last := 0
		for _, i := range pairs {
			last = max(last, i)
		}
		r.fault(couplings[last].section.node.Key, "the couplings make a ring: a train has two ends", "")
		return false
	}
	for i := range len(t.Machines) - 1 {
		_, there := pairs[[2]int{i, i + 1}]
		if there {
			continue
		}
		name, next := spelling.Quote(t.Machines[i].Name), spelling.Quote(t.Machines[i+1].Name)
		if len(pairs) == len(t.Machines)-1 {
			r.fault(machines[i+1].section.node.Key,
				fmt.Sprintf("machine %s is listed after %s but not coupled to it", next, name),
				"list the machines in the order of the train")
		} else {
			r.fault(machines[i+1].section.node.Key, fmt.Sprintf("no coupling joins %s to %s", name, next),
				"write a [[coupling]] between neighbours; machines are listed in the order of the train")
		}
		return false
	}
	return true
}

// middle is the train station in mm of the middle of a machine's feet; NaN
// without feet.
func middle(m *train.Machine) float64 {
	sum := 0.0
	for _, f := range m.Feet {
		sum += f.X
	}
	return m.At + sum/float64(len(m.Feet))
}

// order faults machines that do not stand in the order in which they are
// listed. A held machine without feet may stand anywhere.
func (r *reader) order(t *train.Train, machines []machinePart) bool {
	last, good := -1, true
	for i := range t.Machines {
		if len(t.Machines[i].Feet) == 0 {
			continue
		}
		if last >= 0 {
			before, here := middle(&t.Machines[last]), middle(&t.Machines[i])
			if here <= before {
				good = false
				if r.stationsForFeet(t, machines, last, i) {
					continue
				}
				r.fault(machines[i].section.node.Key,
					fmt.Sprintf("machine %s stands at %s, not after %s at %s (middle of the feet, train stations)",
						spelling.Quote(t.Machines[i].Name), r.show(here, Length), spelling.Quote(t.Machines[last].Name),
						r.show(before, Length)),
					"a foot's x counts from its machine's at; machines are listed in the order of their stations")
			}
		}
		last = i
	}
	return good
}

// stationsForFeet faults the feet of one of two machines that stand in the wrong order, where x of those feet are most
// likely stations of the train: none is before the machine's at, and without at the machines would be in order. False:
// neither is.
func (r *reader) stationsForFeet(t *train.Train, machines []machinePart, before, after int) bool {
	for _, i := range [...]int{before, after} {
		m := &t.Machines[i]
		first, last := ends(m)
		if m.At <= 0 || first < m.At {
			continue
		}
		alone := *m
		alone.At = 0
		near, far := middle(&t.Machines[before]), middle(&t.Machines[after])
		if i == before {
			near = middle(&alone)
		} else {
			far = middle(&alone)
		}
		if far <= near {
			continue
		}
		part := machines[i]
		r.fault(part.footings[0].pair.at("x"), fmt.Sprintf("the feet of %s stand at %s to %s, as their x counts from its "+
			"at: %s is not after %s then",
			spelling.Quote(m.Name), r.show(m.At+first, Length), r.show(m.At+last, Length),
			spelling.Quote(t.Machines[after].Name), spelling.Quote(t.Machines[before].Name)),
			fmt.Sprintf("x of these feet looks like stations of the train: take at off each (%s would be %s)",
				r.show(m.Feet[0].X, Length), r.show(m.Feet[0].X-m.At, Length)))
		return true
	}
	return false
}
