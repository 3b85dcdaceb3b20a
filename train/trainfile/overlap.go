package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// A reach is where the feet of one machine are, as seen from its coupling: stations
// along the train in mm.
type reach struct {
	machine int
	end     float64 // where its shaft ends at the coupling
	last    float64 // its last foot on that side
	past    int     // the foot that stands farthest past the end; -1: none
}

// reaches are those of the two machines of a coupling; the feet of a machine before
// it lie at smaller stations. Sides are 1 and -1 for these two.
func reaches(t *train.Train, c *train.Coupling) [2]reach {
	from, to := c.FaceX()
	look := func(machine int, end, side float64) reach {
		m := &t.Machines[machine]
		s := reach{machine: machine, end: end, last: math.Inf(-1), past: -1}
		for i, f := range m.Feet {
			if x := side * (m.At + f.X); x > s.last {
				s.last = x
				if x > side*end+slack {
					s.past = i
				}
			}
		}
		s.last *= side
		return s
	}
	return [2]reach{look(c.From.Machine, from, 1), look(c.To.Machine, to, -1)}
}

// entangled says whether the feet of a coupling's two machines reach into each other.
func entangled(s [2]reach) bool {
	return s[0].last > s[1].last+slack // not without feet: then it is infinite
}

// overlap warns of a coupling with a foot of its machines past it, and machines
// whose feet reach into each other. On a rare frame a foot does stand past the
// coupling, so that this is no error.
func (r *reader) overlap(t *train.Train, machines []machinePart, c couplingPart) {
	s := reaches(t, &c.coupling)
	a, b := &t.Machines[s[0].machine], &t.Machines[s[1].machine]
	if r.unknown {
		return
	}
	if entangled(s) {
		// The coupling is always on the wrong side of one of the two feet.
		k := 0
		if s[0].past < 0 {
			k = 1
		}
		r.warn(r.footAt(t, machines, s[k]),
			fmt.Sprintf("machines %s and %s reach into each other: feet of the first stand up to station %s, of the second "+
				"from %s on, coupling %s is at %s",
				spelling.Quote(a.Name), spelling.Quote(b.Name), r.show(s[0].last, Length), r.show(s[1].last, Length),
				spelling.Quote(c.coupling.Name), r.show(c.coupling.X, Length)),
			"check x of the feet and at of the machines: a foot's x counts from its machine's at")
		return
	}
	for k, where := range [...]string{"past", "before"} {
		if s[k].past < 0 {
			continue
		}
		m := &t.Machines[s[k].machine]
		at, what := c.section.at("x"), "coupling "+spelling.Quote(c.coupling.Name)
		if c.coupling.Spacer {
			at, what = c.section.at("flex"), "the flex plane of "+what
		}
		r.warn(at, fmt.Sprintf("%s is at %s, and a foot of %s stands %s it, at %s", what, r.show(s[k].end, Length),
			spelling.Quote(m.Name), where, r.show(s[k].last, Length)),
			"check both, and at of the machine: feet stand on their machine's side of the coupling but on rare frames")
	}
}

// footAt is where x of the foot past a coupling is stated.
func (r *reader) footAt(t *train.Train, machines []machinePart, s reach) tree.Span {
	part := machines[s.machine]
	if s.past < 0 {
		return part.section.node.Key
	}
	return part.footings[s.past].pair.at("x")
}
