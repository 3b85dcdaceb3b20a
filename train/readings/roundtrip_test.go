package readings

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"leastmove/testdata/cases"
	"leastmove/train"
)

// An axle is a shaft's centreline with what turns about it: a point, and the
// directions along, left and up that a bracket on it goes by.
type axle struct{ at, along, left, up r3.Vec }

// tilted is the axle of a To shaft that meets the plane x = 0 at the offsets,
// with slopes, turned the short way from the train's own directions.
func tilted(m train.Misalignment) axle {
	d := r3.Unit(r3.Vec{X: 1, Y: m.H.Angle / 1000, Z: m.V.Angle / 1000})
	turn := r3.NewRotation(0, r3.Vec{X: 1})
	if axis := r3.Cross(r3.Vec{X: 1}, d); r3.Norm(axis) > 0 {
		turn = r3.NewRotation(math.Asin(r3.Norm(axis)), axis)
	}
	return axle{r3.Vec{Y: m.H.Offset, Z: m.V.Offset}, d, turn.Rotate(r3.Vec{Y: 1}), turn.Rotate(r3.Vec{Z: 1})}
}

// plunger is its direction at an angle in degrees clockwise from 12.
func (a axle) plunger(degrees float64) r3.Vec {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return r3.Add(r3.Scale(cos, a.up), r3.Scale(-sin, a.left))
}

// station is the axle's point at a train station.
func (a axle) station(x float64) r3.Vec {
	return r3.Add(a.at, r3.Scale((x-a.at.X)/a.along.X, a.along))
}

// shown is what a dial would read at an angle: where a ray from the bracket's
// axle meets the cylinder or the plane of the other one, in mm.
func shown(d *train.Dial, m train.Misalignment, degrees float64) float64 {
	from, to := axle{along: r3.Vec{X: 1}, left: r3.Vec{Y: 1}, up: r3.Vec{Z: 1}}, tilted(m)
	bracket, touched := from, to
	if d.OnFrom {
		bracket, touched = to, from
	}
	u := bracket.plunger(degrees)
	if d.Kind == train.FaceDial {
		// A ray along the bracket's axle meets the plane across the other axle.
		start := r3.Add(bracket.station(0), r3.Scale(d.Radius, u))
		far := r3.Dot(r3.Sub(touched.station(0), start), touched.along) / r3.Dot(bracket.along, touched.along)
		// The gap is between the two faces: To's is met going up the train.
		if d.OnFrom != d.Away {
			far = -far
		}
		return -far
	}
	start := bracket.station(d.X)
	across := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, touched.along), touched.along)) }
	w, v := across(r3.Sub(start, touched.at)), across(u)
	a, b, c := r3.Dot(v, v), r3.Dot(v, w), r3.Dot(w, w)-d.Radius*d.Radius
	return (-b + math.Sqrt(b*b-a*c)) / a
}

// A drawn set of readings, as true geometry gives them: of random kinds, zeros,
// directions and sags.
type drawn struct {
	m     train.Misalignment
	dials []train.Dial
}

// draw draws a misalignment and dials that read it; angles are those of every
// dial.
func draw(r *rand.Rand, reverse bool, angles []float64) drawn {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	out := drawn{m: train.Misalignment{
		V: train.Tilt{Offset: between(-0.9, 0.9), Angle: between(-1.5, 1.5)},
		H: train.Tilt{Offset: between(-0.9, 0.9), Angle: between(-1.5, 1.5)},
	}}
	dials := []train.Dial{rim(false, between(50, 300)), face(between(60, 150))}
	dials[1].OnFrom, dials[1].Away = r.IntN(2) == 0, r.IntN(2) == 0
	if reverse {
		dials = []train.Dial{rim(true, between(-300, -50)), rim(false, between(50, 300))}
	}
	for i := range dials {
		turn(r, &dials[i], out.m, angles)
	}
	out.dials = dials
	return out
}

// turn draws the rest of a dial, and reads it.
func turn(r *rand.Rand, d *train.Dial, m train.Misalignment, angles []float64) {
	if d.Kind == train.RimDial {
		d.Radius = 60 + 90*r.Float64()
	}
	d.Sag, d.Reversed, d.Angles, d.Values = -0.2*r.Float64(), r.IntN(2) == 0, angles, nil
	zero := 2*r.Float64() - 1
	for _, a := range angles {
		v := shown(d, m, a) - zero
		if d.Kind == train.RimDial {
			v -= d.Radius
		}
		d.Values = append(d.Values, direction(d)*v+d.Sag*(1-math.Cos(a*math.Pi/180))/2)
	}
}

// Every kind at once, each with positions of its own, in two passes: what was
// put in comes out, no check fails, and the targets are what was read.
func TestMixture(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 3))
	for range 200 {
		s := draw(r, true, []float64{0, 90, 180, 270, 360})
		more := []train.Dial{face(100), rim(false, 220), face(140)}
		more[1].Set, more[2].Set, more[2].OnFrom, more[2].Away = 2, 2, true, true
		for i := range more {
			turn(r, &more[i], s.m, []float64{10, 95, 200, 260, 300})
		}
		by := offset(400, 0, 0)
		by.V, by.H = TargetAt(&by, 0, s.m)
		fit := reduce(t, 0, append(append(s.dials, more...), by)...)
		require.LessOrEqual(t, worst(fit.Found, s.m), 1e-9)
		require.Empty(t, fit.Checks)
		for _, d := range s.dials {
			for i, v := range Target(&d, 0, s.m, d.Angles) {
				equal(t, d.Values[i]-d.Values[0], v, 1e-9, "target")
			}
		}
	}
}

// worst is the largest difference in mm and mrad.
func worst(a, b train.Misalignment) float64 {
	p, q := stateOf(a), stateOf(b)
	most := 0.0
	for i := range p {
		most = math.Max(most, math.Abs(p[i]-q[i]))
	}
	return most
}

// True geometry to synthetic dials and back.
func TestRoundTrip(t *testing.T) {
	full, partial := []float64{0, 30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330}, []float64{0, 40, 90, 130, 170, 200}
	for _, c := range []struct {
		why            string
		angles         []float64
		radius         bool
		reverse        bool
		within, beyond float64 // mm and mrad
	}{
		{"rims on half a circle, radius given", partial, true, true, 1e-9, 0},
		{"rim and face on half a circle, radius given", partial, true, false, 1e-9, 0},
		{"rims on the whole circle, no radius", full, false, true, 1e-9, 0},
		{"rim and face on the whole circle, no radius", full, false, false, 1e-9, 0},
		{"rims on half a circle, no radius: off by second order", partial, false, true, 0.2, 1e-3},
	} {
		r := rand.New(rand.NewPCG(6, 1))
		most := 0.0
		for range 300 {
			s := draw(r, c.reverse, c.angles)
			if !c.radius {
				for i := range s.dials {
					if s.dials[i].Kind == train.RimDial {
						s.dials[i].Radius = nan
					}
				}
			}
			fit, refusal := Reduce(&train.Coupling{Dials: s.dials}, Options{Checks: usualChecks()})
			require.Nil(t, refusal)
			off := worst(fit.Found, s.m)
			require.False(t, math.IsNaN(off))
			most = math.Max(most, off)
		}
		assert.LessOrEqual(t, most, c.within, c.why)
		assert.GreaterOrEqual(t, most, c.beyond, c.why)
		t.Logf("%s: %.1e", c.why, most)
	}
}

// With noise as large as is usual the fit is unbiased, 95 % intervals hold in 93 to 97 of 100 runs, and the residuals
// show the noise.
func TestCoverage(t *testing.T) {
	runs := cases.Draws(1000, 2000)
	r := rand.New(rand.NewPCG(6, 2))
	for _, c := range []struct {
		why     string
		reverse bool
		angles  []float64
	}{
		{"rims at four positions: two readings to spare", true, quarters()},
		{"rim and face, eight positions", false, []float64{0, 45, 90, 135, 180, 225, 270, 315}},
		{"rims on a partial arc", true, []float64{0, 30, 60, 90, 120, 150}},
	} {
		s := draw(r, c.reverse, c.angles)
		truth := stateOf(s.m)
		var inside [shared]int
		var sum, squares, said state
		for range runs {
			dials := make([]train.Dial, len(s.dials))
			for i, d := range s.dials {
				d.Values = append([]float64{}, d.Values...)
				for j := range d.Values {
					d.Values[j] += 0.01 * r.NormFloat64()
				}
				dials[i] = d
			}
			fit, refusal := Reduce(&train.Coupling{Dials: dials}, Options{Checks: usualChecks()})
			require.Nil(t, refusal)
			require.Positive(t, fit.Freedom)
			found, half := stateOf(fit.Found), stateOf(fit.Half)
			scale := fit.Scatter / usualError
			for i := range truth {
				off := found[i] - truth[i]
				if math.Abs(off) <= half[i] {
					inside[i]++
				}
				sum[i] += off
				squares[i] += off * off
				said[i] += math.Pow(scale*half[i]/fit.Times(), 2)
			}
		}
		for i := range truth {
			share := float64(inside[i]) / float64(runs)
			assert.True(t, share >= 0.93 && share <= 0.97, "%s: unknown %d inside in %v", c.why, i, share)
			deviation := math.Sqrt(squares[i] / float64(runs))
			assert.Less(t, math.Abs(sum[i]/float64(runs)), 4*deviation/math.Sqrt(float64(runs)), c.why)
			assert.InDelta(t, 1, math.Sqrt(said[i]/float64(runs))/deviation, 0.06, "%s: the standard error is the scatter",
				c.why)
			t.Logf("%s, unknown %d: %.3f inside", c.why, i, share)
		}
	}
}
