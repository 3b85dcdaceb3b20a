package train

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A Bend bounds how far a quantity of one machine, by true geometry, is from a linear
// form of the machine's motion. With d_a the size of component a of the motion, counted
// from where the form touches, it is off by at most
//
//	Fixed + Σ_a Line_a d_a + Σ_{a≤b} Square_ab d_a d_b
//
// by Taylor's theorem: Fixed and Line are what the form's value and slopes are off where
// it touches, Square the largest second derivatives between there and the motion.
// Units are mm or mrad of the quantity over those of a Motion.
type Bend struct {
	Fixed  float64
	Line   Motion
	Square [6][6]float64 // above the diagonal and on it
}

// A Range is the most by which each component of a motion may differ from another.
type Range Motion

// A curve is a quantity of a machine over a box of motions, but for a constant. It is
// linear in left and up, and bilinear in the shift along the train and the rotation.
type curve struct {
	turning  jet // what it is without a shift; rad
	axial    jet // what a shift of 1 mm adds
	left, up float64
}

func (c curve) plus(k float64, d curve) curve {
	return curve{turning: c.turning.plus(d.turning.scaled(k)), axial: c.axial.plus(d.axial.scaled(k)), left: c.left +
		k*d.left, up: c.up + k*d.up}
}

// roundOff is the share by which bounds are widened for the rounding of the arithmetic,
// and least the widening in mm or mrad: some thousand times what rounding comes to.
const (
	roundOff = 1e-9
	leastOff = 1e-9
)

// bend bounds how far the curve is from a linear form that touches it at a motion, over
// motions that differ from that by no more than a range. here is the same quantity over
// the one motion alone, value how far the form is off there.
func (c curve) bend(form Form, here curve, value float64, at Motion, by Range) Bend {
	const mrad = 1e-3 // rad
	b := Bend{Fixed: math.Abs(value) + leastOff}
	// Slopes where it touches: in mm and in mrad of the motion.
	slopes := [6]interval{Axial: here.axial.value, Left: exactly(here.left), Up: exactly(here.up)}
	for i := range 3 {
		slopes[Roll+i] = here.turning.first[i].plus(here.axial.first[i].scaled(at[Axial])).scaled(mrad)
	}
	for a := range slopes {
		b.Line[a] = slopes[a].plus(exactly(-form[a])).most()*(1+roundOff) + roundOff*1e-3
	}
	for i := range 3 {
		b.Square[Axial][Roll+i] = c.axial.first[i].scaled(mrad).most() * (1 + roundOff)
	}
	shift := interval{at[Axial] - by[Axial], at[Axial] + by[Axial]}
	for n, ij := range pairs {
		second := c.turning.second[n].plus(c.axial.second[n].times(shift)).scaled(mrad*mrad).most() * (1 + roundOff)
		if ij[0] == ij[1] {
			second /= 2
		}
		b.Square[Roll+ij[0]][Roll+ij[1]] = second
	}
	return b
}

// box are the rotation vectors (rad) within a range of a motion.
func (by Range) box(at Motion) [3]interval {
	var out [3]interval
	for i := range out {
		out[i] = interval{(at[Roll+i] - by[Roll+i]) / 1000, (at[Roll+i] + by[Roll+i]) / 1000}
	}
	return out
}

// An endCurve is the shaft at one end of a coupling: what an EndForms says, by true
// geometry over a box of motions.
type endCurve struct{ v, h, vSlope, hSlope, along curve }

// endCurve is the shaft line of an end, met with the coupling's plane at x, and its own
// end at the station face, as in line and stand.
//
// With a the nearer point of the line and d its direction after the motion,
//
//	slope = d_z / d_x,   height = a_z + (x − a_x) slope,
//
// a_x and a_z carrying the shift of the machine. The sideways ones are the same in y.
func (t *Train) endCurve(e End, x, face float64, s Share, found pose, box [3]interval) endCurve {
	m := &t.Machines[e.Machine]
	shaft := &m.Shafts[e.Shaft]
	own := func(at float64) r3.Vec {
		w := t.warmed(e, at, s)
		return r3.Vec{X: at - m.At + w.a, Y: shaft.Y + w.h, Z: m.Height + shaft.Z + w.v}
	}
	arms := func(p r3.Vec) [3]float64 { return [3]float64{p.X, p.Y, p.Z} }
	near, far := own(x), own(x+arm)
	a := rotated(box, arms(found.turn.Rotate(r3.Sub(near, found.middle))))
	d := rotated(box, arms(found.turn.Rotate(r3.Sub(far, near))))
	end := rotated(box, arms(found.turn.Rotate(r3.Sub(own(face), found.middle))))
	per := d[0].inverse()
	ahead := constant(x - found.at.X).less(a[0])
	var out endCurve
	for axis := 1; axis < 3; axis++ {
		slope := d[axis].times(per)
		offset := curve{turning: a[axis].plus(ahead.times(slope)), axial: slope.scaled(-1)}
		angle := curve{turning: slope.scaled(1000)}
		if axis == 1 {
			offset.left = 1
			out.h, out.hSlope = offset, angle
		} else {
			offset.up = 1
			out.v, out.vSlope = offset, angle
		}
	}
	out.along = curve{turning: end[0], axial: constant(1)}
	return out
}

// A Bender bounds how far linear forms that touch true geometry at some motions are from
// it (see Bend).
type Bender struct {
	train    *Train
	at       []Motion
	found    []pose
	tangents [][]Tangent // true geometry there
	known    map[endBox]*endCurve
}

// An endBox is an end of a coupling in a condition, over a range of motions.
type endBox struct {
	coupling, condition int
	to                  bool
	by                  Range
}

// end is what is known of one, worked out once.
func (b *Bender) end(key endBox) *endCurve {
	if e := b.known[key]; e != nil {
		return e
	}
	c, cond := &b.train.Couplings[key.coupling], b.train.Condition(key.condition)
	end := c.From
	face, toFace := c.FaceX()
	if key.to {
		end, face = c.To, toFace
	}
	m := end.Machine
	e := b.train.endCurve(end, c.X, face, cond.share(m), b.found[m], key.by.box(b.at[m]))
	b.known[key] = &e
	return &e
}

// Bender makes one for forms that touch at some motions, one for each machine.
func (t *Train) Bender(at []Motion) *Bender {
	return &Bender{t, at, t.placed(), t.Tangents(at), map[endBox]*endCurve{}}
}

// A Side is how one end of a coupling enters a limit's row: by how much of the offset and
// of the angle in one plane, or of the distance between shaft ends.
type Side struct {
	Offset, Angle, Along float64
	Sideways             bool // offset and angle to the left, not up
}

// Coupling bounds how far a row of a limit of coupling i in condition k is off: the forms
// are what it makes of the motion of the From and of the To machine, constant what it is
// without any motion, less what is aimed at.
func (b *Bender) Coupling(i, k int, side Side, from, to Form, constant float64, by [2]Range) (bends [2]Bend) {
	return b.between(i, k, -1, side, from, to, constant, by)
}

// Apart is Coupling for what a row of a limit in condition k is above the same row in
// condition l. Moves change it by far less than either of the two.
func (b *Bender) Apart(i, k, l int, side Side, from, to Form, constant float64, by [2]Range) (bends [2]Bend) {
	return b.between(i, k, l, side, from, to, constant, by)
}

// between bounds a row in condition k, less the same row in condition l where that is not
// negative.
func (b *Bender) between(i, k, l int, side Side, from, to Form, constant float64, by [2]Range) (bends [2]Bend) {
	c := &b.train.Couplings[i]
	value := b.touched(i, k, side)
	if l >= 0 {
		value -= b.touched(i, l, side)
	}
	value -= constant + to.Of(b.at[c.To.Machine]) - from.Of(b.at[c.From.Machine])
	for n, end := range [2]End{c.From, c.To} {
		m := end.Machine
		form := [2]Form{from, to}[n]
		quantity := func(by Range) curve {
			q := side.of(b.end(endBox{i, k, n == 1, by}))
			if l >= 0 {
				q = q.plus(-1, side.of(b.end(endBox{i, l, n == 1, by})))
			}
			return q
		}
		bends[n] = quantity(by[n]).bend(form, quantity(Range{}), value, b.at[m], by[n])
		value = 0 // once is enough
	}
	return bends
}

// touched is a row of coupling i in condition k by true geometry, where the forms touch it.
func (b *Bender) touched(i, k int, side Side) float64 {
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
// train, 1 left, 2 up) is from a form of its motion.
func (b *Bender) Point(m int, x, y, z float64, axis int, form Form, by Range) Bend {
	found := b.found[m]
	p := found.turn.Rotate(r3.Sub(r3.Vec{X: x, Y: y, Z: z}, found.middle))
	arms := [3]float64{p.X, p.Y, p.Z}
	quantity := func(box [3]interval) curve {
		c := curve{turning: rotated(box, arms)[axis]}
		switch axis {
		case 0:
			c.axial = constant(1)
		case 1:
			c.left = 1
		default:
			c.up = 1
		}
		return c
	}
	to := found.moved(b.at[m])
	d := shift(found, to, r3.Vec{X: x, Y: y, Z: z})
	value := [3]float64{d.X, d.Y, d.Z}[axis] - form.Of(b.at[m])
	return quantity(by.box(b.at[m])).bend(form, quantity(Range{}.box(b.at[m])), value, b.at[m], by)
}

// Of is the most by which the form is off at a motion that differs from where it touches
// by no more than a range.
func (b *Bend) Of(by Range) float64 {
	sum := b.Fixed
	for i := range by {
		sum += b.Line[i] * by[i]
		for j := i; j < len(by); j++ {
			sum += b.Square[i][j] * by[i] * by[j]
		}
	}
	if math.IsNaN(sum) { // nothing is known times nothing
		return math.Inf(1)
	}
	return sum
}
