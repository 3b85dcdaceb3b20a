package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// tie in mm is rounding of the arithmetic: nothing fails, or is the worst, by it.
const tie = 1e-9

// checks are those that fail. A dial that does not close its ring or does not come
// back to a reading is wrong whatever the others say: these are held against each
// other without it.
func checks(c *train.Coupling, f *train.Fit, most train.Checks) []train.ReadingCheck {
	var failed []train.ReadingCheck
	fail := func(kind train.CheckKind, dial int, size, limit, angle float64) bool {
		bad := size > limit+tie
		if bad {
			failed = append(failed, train.ReadingCheck{Kind: kind, Dial: dial, Size: size, Limit: limit, Angle: angle})
		}
		return bad
	}
	var good []int
	for i := range c.Dials {
		d := &c.Dials[i]
		circle := circleRing(d)
		// Where the rim's radius is known, the circle itself does not close the ring.
		bad := fail(train.CheckRing, i, math.Abs(ring(d, d.Values)-circle), most.Ring, math.NaN())
		if bad {
			k := &failed[len(failed)-1]
			k.Upright, k.Across = opposites(d)
			k.Circle = circle
		}
		if angle, size := returned(d); fail(train.CheckReturn, i, size, most.Return, angle) {
			bad = true
		}
		if !bad {
			good = append(good, i)
		}
	}
	sound, left, told := without(c, f, good)
	for k, i := range good {
		if !told {
			break // by what is left nobody can tell how the shafts stand
		}
		at, size := worstResidual(left.Dials[k].Residual)
		angle := math.NaN()
		if d := &c.Dials[i]; d.Kind != train.OffsetDial {
			angle = d.Angles[at]
		}
		fail(train.CheckResidual, i, size, most.Residual, angle)
	}
	for i := range c.Dials {
		d := &c.Dials[i]
		if d.Kind == train.RimDial && math.IsNaN(d.Sag) {
			reach, told := bracket(c, d)
			if !fail(train.CheckSag, i, reach, most.Span, math.NaN()) && !told {
				failed = append(failed, train.ReadingCheck{Kind: train.CheckSag, Dial: i, Size: math.NaN(), Limit: most.Span,
					Angle: math.NaN()})
			}
		}
		if d.Range > 0 && len(d.Values) > 0 {
			fail(train.CheckRange, i, slices.Max(d.Values)-slices.Min(d.Values), d.Range, math.NaN())
		}
	}
	failed = append(failed, copies(c.Dials)...)
	for _, r := range repeats(sound, left) {
		fail(train.CheckRepeat, good[r.dial], r.size, most.Repeat, math.NaN())
	}
	for _, m := range methods(sound, left) {
		fail(train.CheckMethod, good[m.dial], m.size, most.Method, math.NaN())
	}
	slices.SortStableFunc(failed, func(a, b train.ReadingCheck) int { return a.Dial - b.Dial })
	return failed
}

// without is a coupling with some of its dials alone, and their shares of the fit
// of these alone; told is false where they can't be fitted: their shares are then
// those of the whole fit.
func without(c *train.Coupling, f *train.Fit, good []int) (*train.Coupling, *train.Fit, bool) {
	if len(good) == len(c.Dials) {
		return c, f, true
	}
	some, left := *c, &train.Fit{}
	some.Dials = nil
	for _, i := range good {
		some.Dials = append(some.Dials, c.Dials[i])
		left.Dials = append(left.Dials, f.Dials[i])
	}
	s, ok := solve(some.Dials, c.X)
	for k := range left.Dials {
		if ok {
			left.Dials[k] = reduced(&some.Dials[k], c.X, s.state)
		}
	}
	return &some, left, ok
}

// circleRing is what true geometry adds to the ring of a rim in mm, in the dial's
// direction: of the offset that this dial itself tells, so that another one's
// mistake does not count. 0 without radius.
func circleRing(d *train.Dial) float64 {
	if d.Kind != train.RimDial || math.IsNaN(d.Radius) || math.IsNaN(ring(d, d.Values)) {
		return 0
	}
	const passes = 4
	var s state // at the plunger; of the slope the ring knows a millionth of the offset
	for range passes {
		v, h := own(d, d.X, s)
		s = state{vOffset: v, hOffset: h}
	}
	added := make([]float64, len(d.Angles))
	for i, angle := range d.Angles {
		added[i] = round(d, d.X, angle, s)
	}
	return direction(d) * ring(d, added)
}

// opposites are top + bottom and left + right in mm as a dial showed them.
func opposites(d *train.Dial) (upright, across float64) {
	for quarter := range 4 {
		v, _ := at(d, d.Values, float64(90*quarter))
		if quarter%2 == 0 {
			upright += v
		} else {
			across += v
		}
	}
	return upright, across
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
