package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// A CheckKind is what a check looks at.
type CheckKind int

const (
	Ring     CheckKind = iota // top + bottom against left + right, before sag is taken out
	Return                    // a position read twice
	Residual                  // a reading off the fit
	Repeat                    // one pass against the first
	Method                    // one kind of reading against all others
	NoSag                     // a long bracket without sag, or one whose reach nothing tells
	Range                     // readings further apart than the dial's range
	Copy                      // readings that are there twice to the last digit

	// Of a survey.
	Point       // a point off the line of its shaft
	Shafts      // two shafts of a machine other than their y and z say
	Beside      // a coupling other than what was read there, in mm
	BesideAngle // the same, in mrad
	Sum         // a sum round the train that is not zero
)

// String is a word for programs.
func (k CheckKind) String() string {
	return [...]string{"ring", "return", "residual", "repeat", "method", "sag", "range", "copy",
		"point", "shafts", "survey", "survey_angle", "round"}[k]
}

// tie in mm is rounding of the arithmetic: nothing fails, or is the worst, by it.
const tie = 1e-9

// A Check is one that failed.
type Check struct {
	Kind  CheckKind
	Dial  int     // index into the coupling's dials
	Size  float64 // mm
	Limit float64 // mm
	Angle float64 // degrees, of Return and Residual; NaN: none
	Other int     // of Copy: the dial that it is like, or the first of that set
	Whole bool    // of Copy: all of a set is like another set
}

// checks are those that fail.
func checks(c *train.Coupling, f *Fit, most train.Checks) []Check {
	var failed []Check
	fail := func(kind CheckKind, dial int, size, limit, angle float64) bool {
		bad := size > limit+tie
		if bad {
			failed = append(failed, Check{Kind: kind, Dial: dial, Size: size, Limit: limit, Angle: angle})
		}
		return bad
	}
	for i := range c.Dials {
		d := &c.Dials[i]
		// Of what is left over: where the rim's radius is known, the circle itself
		// does not close the ring.
		bad := fail(Ring, i, math.Abs(ring(d, f.Dials[i].Residual)), most.Ring, math.NaN())
		if angle, size := returned(d); fail(Return, i, size, most.Return, angle) {
			bad = true
		}
		if !bad { // else it is the same fault
			at, size := worstResidual(f.Dials[i].Residual)
			angle := math.NaN()
			if d.Kind != train.OffsetDial {
				angle = d.Angles[at]
			}
			fail(Residual, i, size, most.Residual, angle)
		}
		if d.Kind == train.RimDial && math.IsNaN(d.Sag) {
			reach, told := bracket(c, d)
			if !fail(NoSag, i, reach, most.Span, math.NaN()) && !told {
				failed = append(failed, Check{Kind: NoSag, Dial: i, Size: math.NaN(), Limit: most.Span, Angle: math.NaN()})
			}
		}
		if d.Range > 0 && len(d.Values) > 0 {
			fail(Range, i, slices.Max(d.Values)-slices.Min(d.Values), d.Range, math.NaN())
		}
	}
	failed = append(failed, copies(c.Dials)...)
	for _, r := range repeats(c, f) {
		fail(Repeat, r.dial, r.size, most.Repeat, math.NaN())
	}
	for _, m := range methods(c, f) {
		fail(Method, m.dial, m.size, most.Method, math.NaN())
	}
	slices.SortStableFunc(failed, func(a, b Check) int { return a.Dial - b.Dial })
	return failed
}

// ring is top + bottom - left - right in mm of values at a dial's positions; NaN
// where those are not all there. For a true ring and a shaft that returns to its zero it is nothing
// but the second order (Bloch & Geitner p. 216); sag goes into both sums alike.
func ring(d *train.Dial, values []float64) float64 {
	sum := 0.0
	for quarter, sign := range [...]float64{1, -1, 1, -1} {
		v, ok := at(d, values, float64(90*quarter))
		if !ok {
			return math.NaN()
		}
		sum += sign * v
	}
	return sum
}

// at is the first of the values in mm at a position.
func at(d *train.Dial, values []float64, degrees float64) (float64, bool) {
	for i, a := range d.Angles {
		if math.Abs(turned(a)-degrees) < same {
			return values[i], true
		}
	}
	return 0, false
}

// returned is the position in degrees that was read more than once with the
// largest difference, in mm.
func returned(d *train.Dial) (degrees, size float64) {
	for i, a := range d.Angles {
		for j := range i {
			if math.Abs(turned(a)-turned(d.Angles[j])) < same {
				if by := math.Abs(d.Values[i] - d.Values[j]); by > size+tie {
					degrees, size = turned(a), by
				}
			}
		}
	}
	return degrees, size
}

// worstResidual is the largest, of those alike the first.
func worstResidual(residuals []float64) (at int, size float64) {
	for i, r := range residuals {
		if math.Abs(r) > size+tie {
			at, size = i, math.Abs(r)
		}
	}
	return at, size
}

// bracket is how far in mm the bracket of a rim dial reaches at least: to the
// nearest rim of the other shaft that another dial touches, or over the spacer;
// told is true then. Where neither is there it reaches at least from the
// coupling's plane, over the distance between shaft ends, and past the other
// rims of its own shaft.
func bracket(c *train.Coupling, d *train.Dial) (reach float64, told bool) {
	opposite, least := math.Inf(1), math.Abs(d.X-c.X)
	if !math.IsNaN(c.FoundGap) {
		least = math.Max(least, c.FoundGap)
	}
	for i := range c.Dials {
		other := &c.Dials[i]
		switch toward := d.X - other.X; {
		case other.Kind != train.RimDial:
		case other.OnFrom != d.OnFrom:
			opposite = math.Min(opposite, math.Abs(toward))
		case d.OnFrom: // the bracket comes from beyond the end of this shaft
			least = math.Max(least, -toward)
		default:
			least = math.Max(least, toward)
		}
	}
	switch {
	case !math.IsInf(opposite, 1):
		return opposite, true
	case c.Spacer:
		return math.Max(least, c.Flex[1]-c.Flex[0]), true
	}
	return least, false
}
