package readings

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leastmove/train"
)

// A Basis says what the errors of a fit come from.
type Basis int

const (
	Unknown   Basis = iota // nothing says: as many unknowns as readings, and no errors stated
	Residuals              // what the readings leave to the fit, repeats among them
	Stated                 // the errors stated for every instrument
	Given                  // the train file's [errors]
)

// A Fit is what a coupling's readings come to.
type Fit struct {
	Found     train.Misalignment // of the To shaft against the From shaft, at the coupling's plane
	Standard  train.Misalignment // standard errors, mm and mrad; NaN where Basis is Unknown or Given
	Half      train.Misalignment // 95 % half-widths, mm and mrad; NaN where Basis is Unknown
	FarV      float64            // mm, 95 % half-width of the line at the farthest foot, vertical; NaN where not known
	FarH      float64            // the same, horizontal
	Basis     Basis
	Freedom   int     // readings beyond the unknowns
	Condition float64 // ratio of the largest to the smallest singular value, each unknown in a unit of its own: 1 is best
	Scatter   float64 // mm, standard error of one reading as the residuals show it, for an instrument of no stated error; NaN without freedom
	Dials     []Reduced
	Checks    []Check // that failed, in the order of the dials

	solved *solved
	times  float64 // standard errors in a half-width; NaN where not known
}

// Reduce works out how the coupling's shafts stand from its dials. There is a
// fit if and only if there is no refusal.
func Reduce(c *train.Coupling, o Options) (*Fit, *Refusal) {
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
	f := &Fit{Found: s.misalignment(), Freedom: s.system.freedom(), Condition: s.solution.condition, solved: &s}
	f.errors(&s, c.Dials, o)
	for i := range c.Dials {
		f.Dials = append(f.Dials, reduced(&c.Dials[i], c.X, s.state))
	}
	f.Checks = checks(c, f, o.Checks)
	return f, nil
}

// errors says how good the fit is.
func (f *Fit) errors(s *solved, dials []train.Dial, o Options) {
	scale, quantile := math.NaN(), math.NaN()
	f.Scatter = math.NaN()
	switch {
	case f.Freedom > 0:
		f.Basis = Residuals
		scale = math.Sqrt(s.system.squares(s.solution.x) / float64(f.Freedom))
		quantile = distuv.StudentsT{Sigma: 1, Nu: float64(f.Freedom)}.Quantile(0.975)
		f.Scatter = scale * usualError
	case stated(dials):
		f.Basis, scale, quantile = Stated, 1, wide
	}
	each := func(times float64) train.Misalignment {
		var e state
		for i := range e {
			e[i] = times * math.Sqrt(s.solution.covariance.At(i, i))
		}
		return e.misalignment()
	}
	f.times = scale * quantile
	if f.Basis == Residuals {
		f.times = math.Max(f.times, leastScale*wide)
	}
	f.Standard, f.Half = each(scale), each(f.times)
	f.FarV, f.FarH = math.NaN(), math.NaN()
	if o.Far > 0 {
		beforeV, beforeH := f.halfAt(-o.Far)
		behindV, behindH := f.halfAt(o.Far)
		f.FarV, f.FarH = math.Max(beforeV, behindV), math.Max(beforeH, behindH)
	}
	if f.Basis == Unknown && o.Errors.Offset > 0 && o.Errors.Angle > 0 {
		f.Basis = Given
		t := train.Tilt{Offset: o.Errors.Offset, Angle: o.Errors.Angle}
		f.Half = train.Misalignment{V: t, H: t}
	}
}

// halfAt is the 95 % half-width in mm of the line at a distance in mm from the
// coupling's plane; NaN where not known, or where [errors] say it.
func (f *Fit) halfAt(distance float64) (v, h float64) {
	return f.times * f.solved.along(vOffset, vAngle, distance), f.times * f.solved.along(hOffset, hAngle, distance)
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
