package readings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// third in mils is what true geometry has beyond the books' plain sums, and far
// below the last printed digit: an offset times an angle squared.
const third = 1e-3

// line in mils is how high and how far left the fitted line stands, inches past
// the coupling's plane.
func line(f *train.Fit, inches float64) (v, h float64) {
	left, up := stateOf(f.Found).at(inches * train.Inch)
	return up / train.Mil, left / train.Mil
}

// Bloch & Geitner, Machinery Component Maintenance and Repair, ch. 5, pp.
// 203-204 (Fig. 5-21): planes 14 in apart, feet 12 and 38 in past the adjusted
// plane; full rim readings of 24 and 14 mil vertical, 3 and 37 horizontal. Which
// way each goes follows from the printed offsets: .012 and .007 high, .0015
// south and .0185 north. Here the stationary shaft is From, north is left, and
// dials are zeroed at 12.
func TestBlochReverseIndicator(t *testing.T) {
	s := rim(true, 0, mils(0, 12-1.5, 24, 12+1.5)...) // 12 high, 1.5 right: at 3 reads c + left, at 9 c - left
	a := rim(false, 14*train.Inch, mils(0, -7-18.5, -14, -7+18.5)...)
	f := reduce(t, 0, s, a)
	assert.Empty(t, f.Checks)
	for _, c := range []struct {
		why  string
		x    float64
		v, h float64 // mil, high and north
	}{
		{"printed: .012 high, .0015 south", 0, 12, -1.5},
		{"printed: .007 high, .0185 north", 14, 7, 18.5},
		{"printed: inboard lower .0027, .036 south; exact .0027143, .0356429", 26, 2.7142857, 35.6428571},
		{"printed: outboard raise .0066, .072 or .073 south; exact .0065714, .0727857", 52, -6.5714286, 72.7857143},
	} {
		v, h := line(f, c.x)
		equal(t, c.v, v, third, c.why)
		equal(t, c.h, h, third, c.why)
	}
}

// Bloch & Geitner, as above, pp. 198-199 (Fig. 5-17): face of 4 in diameter .007
// wider at the bottom, element .0055 high; north face .014 wider, element .0145
// north; feet 9 and 39 in past the rim's plane. As full readings zeroed at 12,
// north is left: the rim reads twice the offset, the face the whole difference.
func TestBlochRimAndFace(t *testing.T) {
	r := rim(false, 0, mils(0, -5.5-14.5, -11, -5.5+14.5)...)
	f := face(2*train.Inch, mils(0, -3.5+7, -7, -3.5-7)...)
	fit := reduce(t, 0, r, f)
	assert.Empty(t, fit.Checks)
	for _, c := range []struct {
		why  string
		x    float64
		v, h float64
	}{
		{"as given", 0, 5.5, 14.5},
		{"inboard lower .021 (exact -.02125), .017 north", 9, 21.25, -17},
		{"outboard lower .074 (exact -.07375), .1220 north", 39, 73.75, -122},
	} {
		v, h := line(fit, c.x)
		equal(t, c.v, v, third, c.why)
		equal(t, c.h, h, third, c.why)
	}
}

// McMillan, Rotating Machinery (2004), p. 169: a wanted cold line crosses the
// stationary plane at +5 mil and the adjusted plane at +2 mil; the readings to
// see there are +10 and -4, twice the offset and the sign changed on the second
// bracket. In our signs that is zeroed at 12, read at 6.
func TestMcMillanTargetReadings(t *testing.T) {
	const apart = 10 // inches; the book's readings do not depend on it
	m := train.Misalignment{V: train.Tilt{Offset: 5 * train.Mil, Angle: (2.0 - 5) / apart}}
	s, a := rim(true, 0), rim(false, apart*train.Inch)
	equal(t, 10, Target(&s, 0, m, []float64{0, 180})[1]/train.Mil, third, "stationary")
	equal(t, -4, Target(&a, 0, m, []float64{0, 180})[1]/train.Mil, third, "adjusted")
	equal(t, -10, Target(&s, 0, m, []float64{180, 0})[1]/train.Mil, third, "zeroed at 6 every sign flips")
}

// McMillan's eq. 9.1 in its right form: the shim to add at a foot B past the
// stationary plane is [(STIR + ATIR) B/A - STIR] / 2, A between the planes, with
// readings whose sum changes sign with the second bracket as above.
func TestMcMillanShim(t *testing.T) {
	for _, c := range []struct{ stir, atir, a, b float64 }{{10, -4, 10, 25}, {24, -14, 14, 26}, {-8, 3, 12, 40}} {
		s := rim(true, 0, mils(0, c.stir/2, c.stir, c.stir/2)...)
		r := rim(false, c.a*train.Inch, mils(0, c.atir/2, c.atir, c.atir/2)...)
		v, _ := line(reduce(t, 0, s, r), c.b)
		equal(t, ((c.stir+c.atir)*c.b/c.a-c.stir)/2, -v, third, "the shaft comes up by what it stands low")
	}
}

// Piotrowski, Shaft Alignment Handbook, 3rd ed. (2007), pp. 329-330, sag already
// out: half readings of 20 vertical and 30 lateral at the motor's plane, 10 and
// 20 at the pump's. Here the motor is From and east is right. Which way, by hand: at 6 a
// dial on From zeroed at 12 shows twice how high To stands, -40, and at 3 the half
// of that and how far left, -50; one on To shows the opposite. So To is low and right.
func TestPiotrowskiClockSets(t *testing.T) {
	motor := func(values ...float64) train.Dial { return rim(true, 0, mils(values...)...) }
	pump := func(values ...float64) train.Dial { return rim(false, 10*train.Inch, mils(values...)...) }
	for why, dials := range map[string][]train.Dial{ // T, E, B, W
		"zeroed at the top":             {motor(0, -50, -40, 10), pump(0, 30, 20, -10)},
		"the motor's re-zeroed on east": {motor(50, 0, 10, 60), pump(0, 30, 20, -10)},
	} {
		f := reduce(t, 0, dials...)
		assert.Empty(t, f.Checks, "top + bottom = east + west: -40 = -40, 20 = 20")
		v, h := line(f, 0)
		equal(t, -20, v, third, why)
		equal(t, -30, h, third, why)
		v, h = line(f, 10)
		equal(t, -10, v, third, why)
		equal(t, -20, h, third, why)
	}
}

// Karassik et al., Pump Handbook, Fig. 19: bar sag 3 mil (the sag bar's bottom
// reads -6); readings right +5, bottom +10, left +5. Without sag: bottom +16,
// sides +8, offset 8 mil.
func TestPumpHandbookSag(t *testing.T) {
	r := rim(false, 0, mils(0, 5, 10, 5)...)
	r.Sag = -6 * train.Mil
	for i, want := range []float64{0, 8, 16, 8} {
		equal(t, want, corrected(&r, i)/train.Mil, 1e-12, "sag taken out")
	}
	f := reduce(t, 0, r, face(2*train.Inch, 0, 0, 0, 0))
	v, h := line(f, 0)
	equal(t, 8, math.Abs(v), third, "offset")
	equal(t, 0, h, third, "none sideways")
	equal(t, 10, Target(&r, 0, f.Found, quarters())[2]/train.Mil, 1e-9, "sag put back in")
}
