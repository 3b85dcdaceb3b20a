package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/spelling"
)

// farthest is the distance in mm between a coupling's plane and the nearest
// foot of a machine that it joins from which on it is not believed.
const farthest = 50e3

// plane faults a coupling that can't stand where it does, and warns of one that
// is not between the middles of its machines. Between them it may be anywhere,
// past feet too: machines overhang. It is true where there is nothing to say.
func (r *reader) plane(t *train.Train, c couplingPart) bool {
	x := c.coupling.X
	a, b := &t.Machines[c.coupling.From.Machine], &t.Machines[c.coupling.To.Machine]
	for _, m := range []*train.Machine{a, b} {
		first, last := ends(m)
		if d := math.Max(m.At+first-x, x-m.At-last); d > farthest && len(m.Feet) > 0 {
			r.fault(c.section.at("x"), fmt.Sprintf("x is %s, %s from the nearest foot of %s",
				r.value(c.section, "x", Length), r.show(d, Length), spelling.Quote(m.Name)), stationHint)
			return false
		}
	}
	if len(a.Feet) == 0 || len(b.Feet) == 0 {
		return true
	}
	start, _ := ends(a)
	_, end := ends(b)
	switch between := fmt.Sprintf("between %s and %s", spelling.Quote(a.Name), spelling.Quote(b.Name)); {
	case severalStations(a) && x < a.At+start || severalStations(b) && x > b.At+end:
		r.fault(c.section.at("x"), fmt.Sprintf("x is %s, not %s: their feet reach from %s to %s",
			r.value(c.section, "x", Length), between,
			r.show(a.At+start, Length), r.show(b.At+end, Length)), stationHint)
	case (x < middle(a) || x > middle(b)) && !entangled(reaches(t, &c.coupling)): // else that is said
		r.warn(c.section.at("x"), fmt.Sprintf("x is %s, not %s: the middles of their feet are at %s and %s",
			r.value(c.section, "x", Length), between,
			r.show(middle(a), Length), r.show(middle(b), Length)), stationHint)
	default:
		return true
	}
	return false
}

const stationHint = "a coupling's x is a station of the train, a foot's x counts from its machine's at"

// A coupling gets a warning that is farther in mm from the nearest foot of its
// machine than the first of these, or than the second and than so many times
// the distance between the machine's first foot and its last. Common practice,
// no source: machines overhang by about their own length at most.
const (
	farReach  = 10e3
	nearReach = 1e3
	overhangs = 5
)

// stationsTwice is how many times nearer to its coupling a machine stands without
// its at where this was added to x that are stations of the train already.
const stationsTwice = 3

// reach warns of a machine that stands far from the end of its shaft at the
// coupling: a slip of its at, or of a unit.
func (r *reader) reach(t *train.Train, machines []machinePart, c couplingPart) {
	if r.unknown {
		return
	}
	from, to := c.coupling.FaceX()
	for _, end := range []struct {
		machine int
		x       float64
	}{{c.coupling.From.Machine, from}, {c.coupling.To.Machine, to}} {
		m := &t.Machines[end.machine]
		if len(m.Feet) == 0 {
			continue
		}
		first, last := ends(m)
		d, most := math.Max(m.At+first-end.x, end.x-m.At-last), farReach
		if severalStations(m) {
			most = math.Min(farReach, math.Max(nearReach, overhangs*(last-first)))
		}
		alone := end.x - last
		if end.machine == c.coupling.To.Machine {
			alone = first - end.x
		}
		if m.At != 0 && d > last-first && alone >= 0 && alone < d/stationsTwice {
			r.warn(machines[end.machine].section.at("at"),
				fmt.Sprintf("the feet of %s stand at %s to %s, %s from coupling %s; without at they would be %s from it",
					spelling.Quote(m.Name),
					r.show(m.At+first, Length), r.show(m.At+last, Length), r.show(d, Length), spelling.Quote(c.coupling.Name),
					r.show(alone, Length)),
				"a foot's x counts from its machine's at: where x is a station of the train, leave at out")
			continue
		}
		if d > most {
			r.warn(machines[end.machine].section.at("at"),
				fmt.Sprintf("the nearest foot of %s stands at %s, %s from coupling %s", spelling.Quote(m.Name),
					r.show(math.Min(math.Max(end.x, m.At+first), m.At+last), Length), r.show(d, Length),
					spelling.Quote(c.coupling.Name)),
				"check at of the machine, x of its feet and x of the coupling")
		}
	}
}

func severalStations(m *train.Machine) bool {
	first, last := ends(m)
	return last-first >= apart
}
