package readings

import (
	"math"

	"leastmove/train"
)

// A Reduced is one instrument's own share, sag and second order taken out.
type Reduced struct {
	V, H      float64   // of a rim or an offset: mm, To against From at its station; of a face: slope in mrad
	Corrected []float64 // mm, at each of its positions, + pushed in, less the dial's own constant
	Residual  []float64 // mm, of each reading from the fit; of an offset: vertical, horizontal
	Ring      float64   // mm, top + bottom - left - right as read; NaN where those were not all read
}

// reduced is one dial's own share of a fit.
func reduced(d *train.Dial, x float64, s state) Reduced {
	if d.Kind == train.OffsetDial {
		left, up := s.at(d.X - x)
		return Reduced{V: d.V, H: d.H, Residual: []float64{d.V - up, d.H - left}, Ring: math.NaN()}
	}
	r := Reduced{Ring: ring(d, d.Values)}
	zero := constant(d, x, s, s)
	for i, angle := range d.Angles {
		v := corrected(d, i) - round(d, x, angle, s) - zero
		for k, c := range row(d, x, angle) {
			v -= c * s[k]
		}
		r.Residual = append(r.Residual, v)
	}
	r.V, r.H = own(d, x, s)
	left, up := s.at(d.X - x)
	if d.Kind == train.FaceDial {
		left, up = s[hAngle], s[vAngle]
	}
	for i, angle := range d.Angles {
		// What the fit explains, and what it leaves.
		r.Corrected = append(r.Corrected, r.Residual[i]+harmonic(d, angle, left, up))
	}
	return r
}

// harmonic is what the dial reads at an angle of an offset in mm, or of a slope
// in mrad at a face.
func harmonic(d *train.Dial, angle, left, up float64) float64 {
	r := row(d, d.X, angle) // at the plunger: no arm
	if d.Kind == train.FaceDial {
		return r[hAngle]*left + r[vAngle]*up
	}
	return r[hOffset]*left + r[vOffset]*up
}

// own is what the dial says by itself: the offset in mm at its plunger, of a
// face the slope in mrad. The second order is that of the fit.
func own(d *train.Dial, x float64, s state) (v, h float64) {
	solution, ok := alone(d, x, s).least()
	if !ok {
		return math.NaN(), math.NaN()
	}
	return solution.x[1], solution.x[2]
}

// alone is the system of one dial: its constant, up and left.
func alone(d *train.Dial, x float64, s state) *system {
	out := &system{unknowns: 3}
	for i, angle := range d.Angles {
		out.add([]float64{1, harmonic(d, angle, 0, 1), harmonic(d, angle, 1, 0)}, corrected(d, i)-round(d, x, angle, s), 1)
	}
	return out
}
