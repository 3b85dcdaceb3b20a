package view

import (
	"math"
	"slices"

	"leastmove/train"
)

// A Check is a train as it was found.
type Check struct {
	Train    *Train
	Found    train.State
	Outside  int             // couplings outside a limit in one condition or more
	Worst    float64         // largest share of a coupling limit that is used
	Rooms    [][]FootRoom    // [machine][foot]
	Soft     []SoftFoot      // measured gaps; nothing fills them yet
	Readings []*CouplingRead // of each coupling; nil: it has none
	Survey   *Survey         // nil: there is none
	Together []TogetherShare // couplings that use more than 100 % of their limits added up
	Warm     []Transient     // by coupling, the worst in warm-up
	Cold     []Reading       // by coupling: what to read cold for what is wanted when running
	Back     ReadBack        // what the file says, to confirm
	Bound    []BoundFoot     // feet that are at their end before any move
	Open     []Unstated      // what there is no chance without, and the file leaves open
	Slides   []OpenSlide     // of machines with holes of which the file leaves open how their feet slide hot
}

// An OpenSlide is what a file leaves open of how a machine's feet slide in their holes as it grows.
type OpenSlide struct {
	Machine         int
	Along, Sideways bool // not known
}

// openSlides are those of machines that may be moved.
func openSlides(t *Train, rooms [][]FootRoom) []OpenSlide {
	var out []OpenSlide
	for i := range t.Machines {
		along, sideways := t.SlideUnknown(i)
		holes := slices.ContainsFunc(rooms[i], func(r FootRoom) bool { return !math.IsInf(r.HoleCold, 1) })
		if !t.Machines[i].Hold && holes && (along || sideways) {
			out = append(out, OpenSlide{i, along, sideways})
		}
	}
	return out
}

// CheckOf are the facts of a train as it was found.
func CheckOf(t *Train) *Check {
	found := t.Check(t.Stay())
	out := &Check{Train: t, Found: found, Worst: found.Worst(), Rooms: roomsOf(t, nil), Soft: softFound(t), Cold: t.Cold(),
		Readings: readingsOf(t), Survey: surveyOf(t)}
	out.Back, out.Bound = readBackOf(t, found.Couplings), boundFeet(out.Rooms)
	out.Together, out.Warm = togetherOf(found.Couplings), t.Transients(t.Stay())
	out.Open = t.Unstated()
	out.Slides = openSlides(t, out.Rooms)
	for _, conditions := range found.Couplings {
		for k := range conditions {
			if conditions[k].Worst() > 1+Fair {
				out.Outside++
				break
			}
		}
	}
	return out
}

// A BoundFoot is a foot that is at its end before any move.
type BoundFoot struct{ Machine, Foot int }

// boundFeet are those in the order of the file.
func boundFeet(rooms [][]FootRoom) []BoundFoot {
	var out []BoundFoot
	for i := range rooms {
		for f := range rooms[i] {
			if len(rooms[i][f].AtEnd()) > 0 {
				out = append(out, BoundFoot{i, f})
			}
		}
	}
	return out
}
