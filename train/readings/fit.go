package readings

import (
	"math"
	"slices"

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
	f := &train.Fit{Found: s.misalignment(), Condition: s.solution.condition}
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
	f.Accuracy = accuracy(s.system.squares(s.solution.x), s.system.freedom(), usualError,
		slices.ContainsFunc(dials, func(d train.Dial) bool { return d.Error <= 0 }))
	var e state
	for i := range e {
		e[i] = f.Times() * math.Sqrt(s.solution.covariance.At(i, i))
	}
	f.Half = e.misalignment()
	f.FarV, f.FarH = math.NaN(), math.NaN()
	if o.Far > 0 {
		beforeV, beforeH := f.HalfAt(-o.Far)
		behindV, behindH := f.HalfAt(o.Far)
		f.FarV, f.FarH = math.Max(beforeV, behindV), math.Max(beforeH, behindH)
	}
}

// agreed is the share of sets of readings, as good as they are said to be, whose residuals count as agreeing with it.
const agreed = 0.95

// accuracy is that of figures by the sum of squares that they leave, in their own standard errors. usual in mm is the
// standard error of a figure of no stated error, where there are any (bare).
//
// The errors are those of the instruments, as long as the sum of squares is below what 95 of 100 sets as good as that
// stay below: q(f), of chi-square with f degrees of freedom. What is beyond it counts in full, by degree of freedom:
//
//	spread² = 1 + max(0, squares - q(f)) / f
//
// which for large sums is the usual squares / f (Birge, Physical Review 40, 1932, p. 207). That one or two readings
// happen to agree better makes no error smaller, and that nothing checks some makes theirs no smaller than where a
// check agreed: where a set agrees every part of it has errors at least as large.
func accuracy(squares float64, freedom int, usual float64, bare bool) train.Accuracy {
	a := train.Accuracy{Freedom: freedom, Scatter: math.NaN(), Spread: 1}
	if bare {
		a.Usual = train.Half95 * usual
	}
	if freedom > 0 {
		f := float64(freedom)
		a.Scatter = usual * math.Sqrt(squares/f)
		a.Spread = math.Sqrt(1 + math.Max(0, squares-distuv.ChiSquared{K: f}.Quantile(agreed))/f)
	}
	return a
}
