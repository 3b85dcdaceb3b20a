package trainfile

import (
	"fmt"
	"math"
	"slices"

	"leastmove/train"
	"leastmove/train/spelling"
)

// From these ratios on lengths of one machine or train do not go together: a figure typed ten times off passes them,
// and machines hardly do. Ours.
const (
	lengthy = 8.0 // feet along the train to across it
	stubby  = 6.0 // feet across the train to along it
	tall    = 3.5 // height to the larger of the two
	unlike  = 5.0 // height of the other machines to that of one
	tapered = 6.0 // spread of one pair of feet to another
)

// warnProportions warns of lengths of which one was probably typed ten times off.
func (r *reader) warnProportions(t *train.Train, machines []machinePart) {
	before := r.noted[Warning]
	for i, part := range machines {
		r.warnFootprint(&t.Machines[i], part)
	}
	for i, part := range machines {
		r.warnTall(&t.Machines[i], part)
	}
	if r.noted[Warning] > before {
		return // what one is held against may be the wrong one
	}
	for i, part := range machines {
		r.warnLow(t, i, part)
	}
}

// footprint is how far the feet of a machine reach along and across the train, in mm.
func footprint(m *train.Machine) (along, across float64) {
	first, last := ends(m)
	left, right := math.Inf(-1), math.Inf(1)
	for _, f := range m.Feet {
		left, right = math.Max(left, f.Y), math.Min(right, f.Y)
	}
	return last - first, left - right
}

// warnFootprint warns of feet whose places do not go together, once a machine.
func (r *reader) warnFootprint(m *train.Machine, part machinePart) {
	along, across := footprint(m)
	if len(part.footings) == 0 || along <= 0 || across <= 0 {
		return
	}
	last := part.footings[len(part.footings)-1].pair
	if along > lengthy*across || along*stubby < across {
		r.warn(last.at("x"), fmt.Sprintf("the feet of %s stand %s apart along the train and %s across it",
			spelling.Quote(m.Name), r.show(along, Length), r.show(across, Length)), "check x and spread of its feet")
		return
	}
	narrow, wide := math.Inf(1), 0.0
	at := last
	for _, f := range part.footings {
		if s := f.pair.number("spread"); s < narrow { // not where it is not stated
			narrow, at = s, f.pair
		}
		if s := f.pair.number("spread"); s > wide {
			wide = s
		}
	}
	if wide > tapered*narrow {
		r.warn(at.at("spread"), fmt.Sprintf("one pair of feet of %s stands %s apart, another %s", spelling.Quote(m.Name),
			r.show(narrow, Length), r.show(wide, Length)), "check spread of its feet")
		return
	}
	for n, s := range m.Shafts {
		if len(part.shafts) == len(m.Shafts) && part.shafts[n] != nil && math.Abs(s.Y) > across {
			r.warn(part.shafts[n].at("y"), fmt.Sprintf("shaft %s of %s is %s from its centreline, and its feet stand %s apart",
				spelling.Quote(s.Name), spelling.Quote(m.Name), r.show(math.Abs(s.Y), Length), r.show(across, Length)),
				"check y of the shaft and spread of the feet")
			return
		}
	}
}

// warnTall warns of a machine that is far higher than its feet stand apart.
func (r *reader) warnTall(m *train.Machine, part machinePart) {
	along, across := footprint(m)
	if size := math.Max(along, across); part.section.good("height") && len(m.Feet) > 1 && m.Height > tall*size {
		r.warn(part.section.at("height"), fmt.Sprintf("%s is %s high, and its feet stand %s apart at most",
			spelling.Quote(m.Name), r.show(m.Height, Length), r.show(size, Length)),
			"height is that of the shaft above the shims: check it, and x and spread of the feet")
	}
}

// warnLow warns of a machine that is far lower than the others.
func (r *reader) warnLow(t *train.Train, i int, part machinePart) {
	m := &t.Machines[i]
	var others []float64
	for n := range t.Row() {
		if n != i && t.Machines[n].Height > 0 {
			others = append(others, t.Machines[n].Height)
		}
	}
	if len(others) == 0 || !part.section.good("height") {
		return
	}
	slices.Sort(others)
	if usual := others[len(others)/2]; m.Height*unlike < usual && m.Height > 0 {
		r.warn(part.section.at("height"), fmt.Sprintf("%s is %s high, and the other machines of this train about %s",
			spelling.Quote(m.Name), r.show(m.Height, Length), r.show(usual, Length)),
			"height is that of the shaft above the shims: check it")
	}
}
