package train

import "math"

// FoundErrors are the errors of what coupling i was found to have, in each plane as two independent ones, in mm and
// mrad, 95 % half-widths: the covariance of its own readings, where these tell it, each of offset and angle at least as
// large as Errors has it. With standard deviations so and sa and a correlation r the first is so of the offset with
// r sa of the angle, the second sa sqrt(1 - r²) of the angle (Cholesky factor of the covariance).
func (t *Train) FoundErrors(i int) (v, h [2]Tilt) {
	c := &t.Couplings[i]
	if f := c.Fit; f != nil {
		return t.atLeast(f.Half.V, f.CovV), t.atLeast(f.Half.H, f.CovH)
	}
	var half Tilt
	if t.Survey != nil && c.Surveyed {
		for k := range t.Survey.Couplings {
			if s := &t.Survey.Couplings[k]; s.Coupling == i {
				half = s.Half
			}
		}
	}
	v = t.atLeast(half, Covariance{})
	return v, v
}

// atLeast are errors with these half-widths, in mm and mrad, NaN where not known, and the correlation of this
// covariance.
func (t *Train) atLeast(half Tilt, c Covariance) [2]Tilt {
	larger := func(known, stated float64) float64 {
		if known > stated { // not where it is NaN
			return known
		}
		return stated
	}
	o, a := larger(half.Offset, t.Errors.Offset), larger(half.Angle, t.Errors.Angle)
	r := 0.0
	if c.Offset > 0 && c.Angle > 0 {
		r = math.Max(-1, math.Min(1, c.Cross/math.Sqrt(c.Offset*c.Angle)))
	}
	return [2]Tilt{{Offset: o, Angle: r * a}, {Angle: a * math.Sqrt(1-r*r)}}
}
