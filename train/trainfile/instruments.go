package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/spelling"
)

// An instrument is a reading, or what will be put on after the moves, and the
// table that it came from.
type instrument struct {
	*train.Dial
	section *section
}

// instruments are those of a coupling: its readings, then its targets.
func (c *couplingPart) instruments() []instrument {
	var out []instrument
	for i, s := range c.section.subs("reading") {
		if i < len(c.coupling.Dials) {
			out = append(out, instrument{&c.coupling.Dials[i], s})
		}
	}
	for i, s := range c.section.subs("target") {
		out = append(out, instrument{&c.coupling.Targets[i], s})
	}
	return out
}

// warnInstruments warns of instruments that sit where their coupling is not, or
// on radii that its shafts hardly have.
func (r *reader) warnInstruments(t *train.Train, c couplingPart) {
	crossed := false
	for _, d := range c.instruments() {
		if d.section.good("kind") && d.section.good("x") && r.warnFar(t, c, d) {
			crossed = true // seen from there every rim is on the wrong side
		}
	}
	crossed = crossed || r.warnRims(c)
	for _, d := range c.instruments() {
		if !d.section.good("kind") {
			continue
		}
		if d.section.good("x") && !crossed {
			r.warnSide(t, c, d)
		}
		if d.section.good("radius") {
			r.warnRadius(t, c, d)
		}
	}
	r.warnFaces(c)
}

// warnFar warns of a plane with feet of a machine between it and its coupling,
// and says whether it did. Offsets may be given at the feet themselves; a rim
// that is past the middle of a machine's feet can't be reached from the coupling.
func (r *reader) warnFar(t *train.Train, c couplingPart, d instrument) bool {
	for k, machine := range [...]int{c.coupling.From.Machine, c.coupling.To.Machine} {
		m := &t.Machines[machine]
		if len(m.Feet) == 0 {
			continue
		}
		side := float64(2*k - 1) // the way from the coupling to the machine
		first, last := ends(m)
		bound := m.At + first
		if k == 1 {
			bound = m.At + last
		}
		if d.Kind == train.RimDial {
			bound = middle(m)
		}
		if before, behind := side*(c.coupling.X-bound) < 0, side*(d.X-bound) > slack; !before || !behind {
			continue // the coupling itself is there too, or the plane is not, or a figure has a fault
		}
		r.warn(d.section.at("x"), fmt.Sprintf("x is %s, %s from coupling %s: feet of %s lie between them, from %s to %s",
			r.value(d.section, "x", Length),
			r.show(math.Abs(d.X-c.coupling.X), Length), spelling.Quote(c.coupling.Name), spelling.Quote(m.Name),
			r.show(m.At+first, Length), r.show(m.At+last, Length)),
			"an instrument's x is a station of the train, not of a machine: was a digit left out?")
		return true
	}
	return false
}

// warnSide warns of a rim on the one shaft that lies beyond the flex plane at the
// other one.
func (r *reader) warnSide(t *train.Train, c couplingPart, d instrument) {
	if d.Kind != train.RimDial || !c.section.good("flex") || !d.section.good("on") {
		return
	}
	end, other := c.coupling.To, c.coupling.From
	where, plane := "before the first", c.coupling.Flex[0]
	past := plane - d.X
	if d.OnFrom {
		end, other = other, end
		where, plane = "past the second", c.coupling.Flex[1]
		past = d.X - plane
	}
	if past > slack {
		r.warn(d.section.at("on"), fmt.Sprintf("the rim on %s is at %s, %s flex plane of coupling %s, at %s: that is "+
			"the other shaft", spelling.Quote(t.ShaftName(end)),
			r.value(d.section, "x", Length), where, spelling.Quote(c.coupling.Name), r.show(plane, Length)),
			fmt.Sprintf("if the plunger touches %s, write on = %q; else check x and flex",
				spelling.Quote(t.ShaftName(other)), t.ShaftName(other)))
	}
}

// Sizes that tell a radius in another unit, or a diameter. Common practice, no
// source. Machines that hang on their centreline stand on feet about as high as
// the shaft, so that low heights tell nothing of the room around it.
const (
	supported   = 100 // mm: from this height on, feet are below the shaft
	largeRadius = 300 // mm: over it, a radius gets a warning at lower heights too
	faceOverRim = 1.6 // radius of a face over that of a rim on the same shaft
)

// warnRadius warns of a rim or a face that reaches down past the feet.
func (r *reader) warnRadius(t *train.Train, c couplingPart, d instrument) {
	e := c.coupling.To
	if d.OnFrom {
		e = c.coupling.From
	}
	if d.Kind == train.FaceDial && !d.section.good("on") {
		return
	}
	m := &t.Machines[e.Machine]
	height := m.Height + m.Shafts[e.Shaft].Z
	if d.Radius > height && (height >= supported || d.Radius > largeRadius) {
		r.warn(d.section.at("radius"),
			fmt.Sprintf("radius is %s, and the shaft of %s is %s above the shim plane: the rim would reach below it",
				r.value(d.section, "radius", Length),
				spelling.Quote(m.Name), r.show(height, Length)),
			r.lengthHint()+"; the radius is that from the shaft's centre to the plunger")
	}
}

// lengthHint is what unit the file's lengths have.
func (r *reader) lengthHint() string {
	if r.units == train.Inches {
		return "lengths are in inches in this file"
	}
	return "lengths are in mm in this file"
}

// warnFaces warns of a face dial far outside all rims of its shaft: its diameter
// was typed.
func (r *reader) warnFaces(c couplingPart) {
	for _, onFrom := range [...]bool{true, false} {
		rim := math.NaN()
		for _, d := range c.instruments() {
			if d.Kind == train.RimDial && d.OnFrom == onFrom && d.section.good("kind") && d.section.good("on") &&
				d.section.good("radius") && !(rim > d.Radius) {
				rim = d.Radius
			}
		}
		for _, d := range c.instruments() {
			if d.Kind == train.FaceDial && d.OnFrom == onFrom && d.section.good("on") && d.section.good("radius") &&
				d.Radius > faceOverRim*rim {
				r.warn(d.section.at("radius"),
					fmt.Sprintf("radius of the face is %s, and the largest rim on the same shaft has %s",
						r.value(d.section, "radius", Length), r.show(rim, Length)),
					"a face ends about where its rim does: was the diameter typed?")
			}
		}
	}
}

// Readings that are all this small were typed in another unit. Common practice,
// no source: dials show 0.01 mm or 0.5 mil, fine ones 0.001 mm or 0.05 mil, and
// a coupling with nothing else to read needs no plan.
const (
	leastMil   = 0.1    // mil: readings of any instrument
	smallDial  = 1.5    // mil: readings of a dial of which some are finer than this ...
	dialStep   = 0.05   // mil: ... allows
	leastRead  = 0.0015 // mm: readings of any instrument
	stepMisses = 1e-6   // of a step: rounding
)

// warnReadings warns of clocks and sweeps whose readings are all smaller than
// an instrument shows: once a file, at the first.
func (r *reader) warnReadings(couplings []couplingPart) {
	var first instrument
	var where string
	largest, more := 0.0, 0
	for _, c := range couplings {
		for i, s := range c.section.subs("reading") {
			for _, key := range ways() {
				if i >= len(c.coupling.Dials) || !s.good(key) {
					continue
				}
				d := instrument{&c.coupling.Dials[i], s}
				size, small := r.tiny(d, key)
				switch {
				case !small:
				case where != "" && s.at(key).Start > first.section.at(where).Start:
					more++
				default:
					if where != "" {
						more++
					}
					first, where, largest = d, key, size
				}
			}
		}
	}
	if where == "" {
		return
	}
	message := "all readings here are " + r.show(largest, Move) + " or less"
	if more > 0 {
		message += fmt.Sprintf(" (%d more like it)", more)
	}
	hint := "readings are in mm in this file: not in m"
	if r.units == train.Inches {
		typed := largest / train.Mil
		hint = fmt.Sprintf("readings are in mils (0.001 inch) in this file: %s inch would be %s mil, %s mm %s mil",
			figure(typed), figure(typed*1000), figure(typed), figure(typed/0.0254))
	}
	r.warn(first.section.at(where), message, hint)
}

// tiny is the largest size in mm of what was typed under a key, and whether it
// tells of another unit.
func (r *reader) tiny(d instrument, key string) (size float64, small bool) {
	values := d.section.list(key)
	if key == "file" {
		values = d.Values
	}
	fine := false
	for _, v := range values {
		size = math.Max(size, math.Abs(v))
		steps := v / train.Mil / dialStep
		fine = fine || math.Abs(steps-math.Round(steps)) > stepMisses
	}
	switch {
	case size == 0:
		return 0, false
	case r.units == train.Millimetres:
		return size, size < leastRead
	}
	return size, size < leastMil*train.Mil-slack || key == "clock" && fine && size < smallDial*train.Mil-slack
}
