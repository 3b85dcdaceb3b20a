package readings

import (
	"math"

	"leastmove/train"
)

// reduced is one dial's own share of a fit.
func reduced(d *train.Dial, x float64, s state) train.DialFit {
	if d.Kind == train.OffsetDial {
		left, up := s.at(d.X - x)
		return train.DialFit{V: d.V, H: d.H, Residual: []float64{d.V - up, d.H - left}, Ring: math.NaN()}
	}
	r := train.DialFit{Ring: ring(d, d.Values)}
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
