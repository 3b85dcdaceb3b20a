package train

import "math"

// A foot slides on its base as its machine grows: along the train by the growth a at its station, sideways by
// coefficient × rise × y, from where the foot stands cold. The bolt stays, so that the hole must let the foot slide
// too. Slides are added to where the moves take the foot.

// A Slide is how far one condition takes a foot on its base.
type Slide struct {
	Condition   int
	Axial, Left float64 // mm from cold, + toward the last machine and + to the left
}

// slide is that of foot f of machine i in condition k. Of growth that a condition has of its own nothing is known of
// the rise of the feet, so that it takes them along the train alone.
func (t *Train) slide(i, f, k int) Slide {
	c, foot := &t.Conditions[k], &t.Machines[i].Feet[f]
	if own := c.OwnGrowth(i); own != nil {
		return Slide{Condition: k, Axial: own.A.At(foot.X)}
	}
	return Slide{k, c.Growth[i] * foot.Slide[0], c.Growth[i] * foot.Slide[1]}
}

// Slides are those of a foot's slides that its hole must let it make, in the order of the conditions. A hole is convex:
// one that holds the bolt cold and after a slide holds it on the way there, so that shorter slides the same way are
// left out.
func (t *Train) Slides(i, f int) []Slide {
	var all []Slide
	for k := range t.Conditions {
		s := t.slide(i, f, k)
		if math.Hypot(s.Axial, s.Left) < leastSlide {
			continue
		}
		n := 0
		for n < len(all) && !all[n].passes(s) {
			n++
		}
		if n < len(all) {
			continue
		}
		kept := all[:0]
		for _, other := range all {
			if !s.passes(other) {
				kept = append(kept, other)
			}
		}
		all = append(kept, s)
	}
	return all
}

// leastSlide in mm is rounding and nothing else.
const leastSlide = 1e-9

// passes says whether the way of a slide goes through the end of another.
func (s Slide) passes(o Slide) bool {
	across := s.Axial*o.Left - s.Left*o.Axial
	along := s.Axial*o.Axial + s.Left*o.Left
	length := math.Hypot(s.Axial, s.Left)
	return math.Abs(across) <= leastSlide*length && along > 0 && along <= length*length*(1+leastSlide)
}

// SlideUnknown says what of the slide of machine i's feet the file leaves open, which counts as none: along the train
// and sideways. Nothing of a machine that is stated not to warm, or of which no growth is stated at all.
func (t *Train) SlideUnknown(i int) (along, sideways bool) {
	m := &t.Machines[i]
	g := &m.Growth
	if g.Unknown || !g.Worked && g.V == (Line{}) && g.H == (Line{}) && g.A == (Line{}) {
		return false, false
	}
	return g.AxialUnknown, !g.Worked
}
