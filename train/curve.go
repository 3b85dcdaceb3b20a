package train

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A Bend bounds how far a quantity of one machine, by true geometry, is from linear
// forms of the motion of the machine and of the base that carries it. With d_a the size of component a of the two
// motions, counted from where the forms are tangent, it is off by at most
//
//	Fixed + Σ_a Line_a d_a + Σ_{a≤b} Square_ab d_a d_b
//
// by Taylor's theorem: Fixed and Line are what the forms' value and slopes are off where
// they are tangent, Square the largest second derivatives between there and the motions.
// With c_a for the components themselves, signed, Σ_{a≤b} Mean_ab c_a c_b is what the quantity is above the forms,
// give or take Fixed, the Line_a d_a and (Square_ab − |Mean_ab|) d_a d_b.
// Units are mm or mrad of the quantity over those of a Motion.
type Bend struct {
	Bodies []int // the machine and, where it moves, its base: six components each
	Fixed  float64
	Line   [12]float64
	Square [12][12]float64 // above the diagonal and on it
	Mean   [12][12]float64 // signed, of the same places
}

// A Range is the most by which each component of a motion may differ from another.
type Range Motion

// A curve is a quantity of a machine over a box of motions, but for a constant. It is affine in the shifts of the
// machine and of its base, with factors that hang on the rotations.
type curve struct {
	turning jet    // what it is without a shift; rad
	shift   [6]jet // what a shift of 1 mm adds: along, left and up of the machine, and of its base
}

func (c curve) plus(k float64, d curve) curve {
	c.turning = c.turning.plus(d.turning.scaled(k))
	for j := range c.shift {
		c.shift[j] = c.shift[j].plus(d.shift[j].scaled(k))
	}
	return c
}

// roundOff is the share by which bounds are widened for the rounding of the arithmetic,
// and least the widening in mm or mrad: some thousand times what rounding comes to.
const (
	roundOff = 1e-9
	leastOff = 1e-9
)

// shifted and turned are the numbers, among the components of the two motions, of a shift and of a rotation.
func shifted(j int) int { return j + j/3*3 }
func turned(i int) int  { return i + i/3*3 + 3 }

// bend bounds how far the curve is from linear forms that are tangent to it at some motions, over
// motions that differ from those by no more than a range, of some bodies. here is the same quantity over
// the one pair of motions alone, value how far the forms are off there.
func (c curve) bend(bodies []int, forms []Form, here curve, value float64, at []Motion, by []Range) Bend {
	const mrad = 1e-3 // rad
	b := Bend{Bodies: bodies, Fixed: math.Abs(value) + leastOff}
	// Slopes there: in mm and in mrad of the motion.
	for i := range 3 * len(bodies) {
		a := turned(i)
		slope := here.turning.first[i]
		for j := range 3 * len(bodies) {
			slope = slope.plus(here.shift[j].first[i].scaled(at[j/3][j%3]))
		}
		b.Line[a] = offSlope(slope.scaled(mrad), forms[i/3][a%6])
		a = shifted(i)
		b.Line[a] = offSlope(here.shift[i].value, forms[i/3][a%6])
	}
	for j := range 3 * len(bodies) {
		for i := range 3 * len(bodies) {
			p, q := shifted(j), turned(i)
			b.second(min(p, q), max(p, q), c.shift[j].first[i].scaled(mrad))
		}
	}
	for n, ij := range pairs[:c.turning.seconds()] {
		sum := c.turning.second[n]
		for j := range 3 * len(bodies) {
			from, most := at[j/3][j%3], by[j/3][j%3]
			sum = sum.plus(c.shift[j].second[n].times(interval{from - most, from + most}))
		}
		sum = sum.scaled(mrad * mrad)
		if ij[0] == ij[1] {
			sum = sum.scaled(0.5)
		}
		b.second(turned(ij[0]), turned(ij[1]), sum)
	}
	return b
}

// second sets what a product of two components counts.
func (b *Bend) second(p, q int, by interval) {
	b.Square[p][q] = by.most() * (1 + roundOff)
	if mean := by.low/2 + by.high/2; !math.IsInf(b.Square[p][q], 1) {
		b.Mean[p][q] = mean
	}
}

// times is the bend of the quantity times 1 or -1.
func (b Bend) times(sign float64) Bend {
	for p := range b.Mean {
		for q := range b.Mean[p] {
			b.Mean[p][q] *= sign
		}
	}
	return b
}

// offSlope is how far a slope is from that of a form.
func offSlope(slope interval, form float64) float64 {
	return slope.plus(exactly(-form)).most()*(1+roundOff) + roundOff*1e-3
}

// box are the rotation vectors (rad) within a range of a motion.
func (by Range) box(at Motion) [3]interval {
	var out [3]interval
	for i := range out {
		out[i] = interval{(at[Roll+i] - by[Roll+i]) / 1000, (at[Roll+i] + by[Roll+i]) / 1000}
	}
	return out
}

// A holder is a machine as it was found, alone or on a base, over a box of rotations of each.
type holder struct {
	found  pose
	base   *pose // nil: none that moves
	boxes  [2][3]interval
	origin r3.Vec // the middle of what holds it, before any move
}

func (b *Bender) holder(bodies []int, by []Range) holder {
	h := holder{found: b.found[bodies[0]]}
	h.origin = h.found.at
	if len(bodies) > 1 {
		h.base = &b.found[bodies[1]]
		h.origin = h.base.at
	}
	for n, body := range bodies {
		h.boxes[n] = by[n].box(b.at[body])
	}
	return h
}

// way is a vector of the machine, in its own frame.
func (h *holder) way(v r3.Vec) [3]jet {
	return h.onBase(rotated(0, h.boxes[0], constants(h.found.turn.Rotate(v))))
}

// point is a point of the machine, in its own frame, as seen from the origin and without shifts.
func (h *holder) point(own r3.Vec) [3]jet {
	a := rotated(0, h.boxes[0], constants(h.found.turn.Rotate(r3.Sub(own, h.found.middle))))
	if h.base == nil {
		return a
	}
	for i, v := range constants(r3.Sub(h.found.at, h.origin)) {
		a[i] = a[i].plus(v)
	}
	return h.onBase(a)
}

// shift is what a shift of 1 mm adds to a point: of the machine by the first three, of its base by the others.
func (h *holder) shift(j int) [3]jet {
	var unit [3]jet
	unit[j%3] = constant(1)
	switch {
	case j < 3:
		return h.onBase(unit)
	case h.base != nil:
		return unit
	}
	return [3]jet{}
}

func (h *holder) onBase(v [3]jet) [3]jet {
	if h.base == nil {
		return v
	}
	return rotated(3, h.boxes[1], v)
}

func constants(v r3.Vec) [3]jet { return [3]jet{constant(v.X), constant(v.Y), constant(v.Z)} }

// An endCurve is the shaft at one end of a coupling: what an EndForms says, by true
// geometry over a box of motions.
type endCurve struct{ v, h, vSlope, hSlope, along curve }

// endCurve is the shaft line of an end, met with the coupling's plane at x, and its own
// end at the station face, as in line and material.
//
// With a the nearer point of the line and d its direction after the motion,
//
//	slope = d_z / d_x,   height = a_z + (x − a_x) slope,
//
// a_x and a_z carrying the shifts. The sideways ones are the same in y.
func (t *Train) endCurve(e End, x, face float64, s Share, h *holder) endCurve {
	m := &t.Machines[e.Machine]
	shaft := &m.Shafts[e.Shaft]
	own := func(at float64) r3.Vec {
		w := t.warmed(e, at, s)
		return r3.Vec{X: at - m.At + w.a, Y: shaft.Y + w.h, Z: m.Height + shaft.Z + w.v}
	}
	near, far := own(x), own(x+arm)
	a, d, end := h.point(near), h.way(r3.Sub(far, near)), h.point(own(face))
	per := d[0].inverse()
	ahead := constant(x - h.origin.X).less(a[0])
	slopes := [3]jet{1: d[1].times(per), 2: d[2].times(per)}
	var out endCurve
	out.along.turning = end[0]
	out.h.turning, out.v.turning = a[1].plus(ahead.times(slopes[1])), a[2].plus(ahead.times(slopes[2]))
	out.hSlope.turning, out.vSlope.turning = slopes[1].scaled(1000), slopes[2].scaled(1000)
	for j := range out.along.shift {
		by := h.shift(j)
		out.along.shift[j] = by[0]
		out.h.shift[j], out.v.shift[j] = by[1].less(by[0].times(slopes[1])), by[2].less(by[0].times(slopes[2]))
	}
	return out
}

// A Bender bounds how far linear forms that are tangent to true geometry at some motions are from
// it (see Bend).
type Bender struct {
	train    *Train
	at       []Motion
	found    []pose
	here     *posed
	tangents [][]Tangent // true geometry there
	known    map[endBox]*endCurve
}

// An endBox is an end of a coupling in a condition, over a range of motions.
type endBox struct {
	coupling, condition int
	to                  bool
	by                  [2]Range // of the machine, and of its base
}

// end is what is known of one, worked out once.
func (b *Bender) end(key endBox, bodies []int) *endCurve {
	if e := b.known[key]; e != nil {
		return e
	}
	c, cond := &b.train.Couplings[key.coupling], b.train.Condition(key.condition)
	end := c.From
	face, toFace := c.FaceX()
	if key.to {
		end, face = c.To, toFace
	}
	h := b.holder(bodies, key.by[:len(bodies)])
	e := b.train.endCurve(end, c.X, face, cond.share(end.Machine), &h)
	b.known[key] = &e
	return &e
}

// Bender makes one for forms that are tangent at some motions, one for each machine.
func (t *Train) Bender(at []Motion) *Bender {
	found := t.placed()
	return &Bender{t, at, found, t.posed(found, at), t.Tangents(at), map[endBox]*endCurve{}}
}

// A Side is how one end of a coupling enters a limit's row: by how much of the offset and
// of the angle in one plane, or of the distance between shaft ends.
type Side struct {
	Offset, Angle, Along float64
	Sideways             bool // offset and angle to the left, not up
}

// Coupling bounds how far a row of a limit of coupling i in condition k is off: the forms
// are what the motions of its Bodies add to it, constant what it is
// without any motion, less what is aimed at. Ranges are of the same bodies; bends are of the From and of the To end.
func (b *Bender) Coupling(i, k int, side Side, forms []Form, constant float64, by []Range) (bends []Bend) {
	return b.between(i, k, -1, side, forms, constant, by)
}

// Apart is Coupling for what a row of a limit in condition k is above the same row in
// condition l. Moves change it by far less than either of the two.
func (b *Bender) Apart(i, k, l int, side Side, forms []Form, constant float64, by []Range) (bends []Bend) {
	return b.between(i, k, l, side, forms, constant, by)
}

// between bounds a row in condition k, less the same row in condition l where that is not
// negative.
func (b *Bender) between(i, k, l int, side Side, forms []Form, constant float64, by []Range) (bends []Bend) {
	value := b.tangent(i, k, side)
	if l >= 0 {
		value -= b.tangent(i, l, side)
	}
	var moved float64
	all := b.train.Bodies(i)
	for n, body := range all {
		moved += forms[n].Of(b.at[body.Body])
	}
	value -= constant + moved
	for _, to := range [2]bool{false, true} {
		sign := -1.0
		if to {
			sign = 1
		}
		var bodies []int
		var own []Form
		var at []Motion
		var ranges [2]Range
		for n, body := range all {
			if body.To != to || len(bodies) > 0 && b.train.Machines[body.Body].Hold {
				continue
			}
			ranges[len(bodies)] = by[n]
			bodies, own, at = append(bodies, body.Body), append(own, forms[n].Times(sign)), append(at, b.at[body.Body])
		}
		quantity := func(by [2]Range) curve {
			q := side.of(b.end(endBox{i, k, to, by}, bodies))
			if l >= 0 {
				q = q.plus(-1, side.of(b.end(endBox{i, l, to, by}, bodies)))
			}
			return q
		}
		bend := quantity(ranges).bend(bodies, own, quantity([2]Range{}), value, at, ranges[:])
		bends = append(bends, bend.times(sign))
		value = 0 // once is enough
	}
	return bends
}

// tangent is a row of coupling i in condition k by true geometry, where the forms are tangent to it.
func (b *Bender) tangent(i, k int, side Side) float64 {
	c, truth := &b.train.Couplings[i], b.tangents[i][k]
	tilt, aim := truth.V, c.Aim(k).V
	if side.Sideways {
		tilt, aim = truth.H, c.Aim(k).H
	}
	if side.Along != 0 {
		return side.Along * (truth.Gap - c.WantedGap)
	}
	return side.Offset*(tilt.Offset-aim.Offset) + side.Angle*(tilt.Angle-aim.Angle)
}

// of is what an end of a coupling has in a row.
func (s Side) of(e *endCurve) curve {
	switch {
	case s.Along != 0:
		return curve{}.plus(s.Along, e.along)
	case s.Sideways:
		return curve{}.plus(s.Offset, e.h).plus(s.Angle, e.hSlope)
	}
	return curve{}.plus(s.Offset, e.v).plus(s.Angle, e.vSlope)
}

// Point bounds how far the displacement of a point of machine m along an axis (0 along the
// train, 1 left, 2 up) is from forms of some motions: its own, and that of its base where that takes it along.
func (b *Bender) Point(bodies []int, x, y, z float64, axis int, forms []Form, by []Range) Bend {
	p := r3.Vec{X: x, Y: y, Z: z}
	at := make([]Motion, len(bodies))
	here := *b.here
	here.whole = here.own
	var value float64
	for n, body := range bodies {
		at[n] = b.at[body]
		value -= forms[n].Of(at[n])
		if n > 0 {
			here.whole = b.here.whole
		}
	}
	d := shift(b.found[bodies[0]], here.whole[bodies[0]], p)
	value += [3]float64{d.X, d.Y, d.Z}[axis]
	quantity := func(by []Range) curve {
		h := b.holder(bodies, by)
		c := curve{turning: h.point(p)[axis]}
		for j := range c.shift {
			c.shift[j] = h.shift(j)[axis]
		}
		return c
	}
	return quantity(by).bend(bodies, forms, quantity(make([]Range, len(bodies))), value, at, by)
}
