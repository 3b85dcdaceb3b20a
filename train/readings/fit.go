package readings

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leastmove/train"
)

// Reduce works out how the coupling's shafts stand from its dials. There is a
// fit if and only if there is no refusal.
func Reduce(c *train.Coupling, o Options) (*train.Fit, *Refusal) {
	if r := refuseDials(c.Dials); r != nil {
		return nil, r
	}
	s, ok := solve(c.Dials, c.X)
	if !ok {
		return nil, refuseSet(c.Dials)
	}
	if r := s.refuseAngle(c.Dials, o.Far); r != nil {
		return nil, r
	}
	f := &train.Fit{Found: s.misalignment(), Freedom: s.system.freedom(), Condition: s.solution.condition}
	f.CovV, f.CovH = s.covariance(vOffset, vAngle), s.covariance(hOffset, hAngle)
	errors(f, &s, c.Dials, o)
	for i := range c.Dials {
		f.Dials = append(f.Dials, reduced(&c.Dials[i], c.X, s.state))
	}
	f.Checks = checks(c, f, o.Checks)
	return f, nil
}

// errors says how good the fit is.
func errors(f *train.Fit, s *solved, dials []train.Dial, o Options) {
	scale, quantile := math.NaN(), math.NaN()
	f.Scatter = math.NaN()
	switch {
	case f.Freedom > 0:
		f.Basis = train.BasisResiduals
		scale = math.Sqrt(s.system.squares(s.solution.x) / float64(f.Freedom))
		quantile = distuv.StudentsT{Sigma: 1, Nu: float64(f.Freedom)}.Quantile(0.975)
		f.Scatter = scale * usualError
	case stated(dials):
		f.Basis, scale, quantile = train.BasisStated, 1, wide
	}
	each := func(times float64) train.Misalignment {
		var e state
		for i := range e {
			e[i] = times * math.Sqrt(s.solution.covariance.At(i, i))
		}
		return e.misalignment()
	}
	f.Times = scale * quantile
	if f.Basis == train.BasisResiduals {
		f.Times = math.Max(f.Times, leastScale*wide)
	}
	f.Standard, f.Half = each(scale), each(f.Times)
	f.FarV, f.FarH = math.NaN(), math.NaN()
	if o.Far > 0 {
		beforeV, beforeH := f.HalfAt(-o.Far)
		behindV, behindH := f.HalfAt(o.Far)
		f.FarV, f.FarH = math.Max(beforeV, behindV), math.Max(beforeH, behindH)
	}
	if f.Basis == train.BasisUnknown && o.Errors.Offset > 0 && o.Errors.Angle > 0 {
		f.Basis = train.BasisGiven
		t := train.Tilt{Offset: o.Errors.Offset, Angle: o.Errors.Angle}
		f.Half = train.Misalignment{V: t, H: t}
	}
}

// leastScale is the least that residuals may say of the errors, as a share of
// those that set the weights: readings that fit to the last digit are still
// rounded to it, which is a standard error of the step over the root of 12.
const leastScale = 0.29

func stated(dials []train.Dial) bool {
	for i := range dials {
		if dials[i].Error <= 0 {
			return false
		}
	}
	return true
}
