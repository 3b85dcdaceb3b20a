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
	Found    train.Misalignment // of the To shaft against the From shaft, at the coupling's plane
	Standard train.Misalignment // standard errors, mm and mrad; NaN where Basis is Unknown or Given
	Half     train.Misalignment // 95 % half-widths, mm and mrad; NaN where Basis is Unknown
	FarV     float64            // mm, 95 % half-width of the line at the farthest foot, vertical; NaN where not known
	FarH     float64            // the same, horizontal
	Basis    Basis
	Freedom  int     // readings beyond the unknowns
	Scatter  float64 // mm, standard error of one reading as the residuals show it, for an instrument of no stated error; NaN without freedom
	Dials    []Reduced
	Checks   []Check // that failed, in the order of the dials
}

// A Reduced is one instrument's own share, sag and second order taken out.
type Reduced struct {
	V, H      float64   // of a rim or an offset: mm, To against From at its station; of a face: slope in mrad
	Corrected []float64 // mm, at each of its positions, + pushed in, less the dial's own constant
	Residual  []float64 // mm, of each reading from the fit; of an offset: vertical, horizontal
	Ring      float64   // mm, top + bottom - left - right as read; NaN where those were not all read
}

// A solved is a fit of some dials.
type solved struct {
	state
	constants []float64 // mm, by dial
	system    system
	solution
}

// settled in mm and mrad is the change from which on another pass changes
// nothing; the second order needs three or four.
const (
	settled    = 1e-12
	mostPasses = 30
)

// solve fits dials; false where they do not determine the unknowns.
func solve(dials []train.Dial, x float64) (solved, bool) {
	var out solved
	for range mostPasses {
		system := equations(dials, x, out.state)
		solution, ok := system.least()
		if !ok {
			return solved{}, false
		}
		before := out.state
		out = solved{system: system, solution: solution, state: state(solution.x[:shared])}
		change := 0.0
		for i := range before {
			change = math.Max(change, math.Abs(out.state[i]-before[i]))
		}
		if change < settled {
			break
		}
	}
	next := shared
	for i := range dials {
		c := 0.0
		if dials[i].Kind != train.OffsetDial {
			c = out.x[next]
			next++
		}
		out.constants = append(out.constants, c)
	}
	return out, true
}

// equations are those of the package comment, linear in the unknowns, the
// second order taken from a state.
func equations(dials []train.Dial, x float64, at state) system {
	s := system{unknowns: shared}
	for i := range dials {
		if dials[i].Kind != train.OffsetDial {
			s.unknowns++
		}
	}
	constant := shared
	for i := range dials {
		d := &dials[i]
		deviation := standard(d)
		if d.Kind == train.OffsetDial {
			arm := (d.X - x) / 1000
			s.add([]float64{vOffset: 1, vAngle: arm}, d.V, deviation)
			s.add([]float64{hOffset: 1, hAngle: arm}, d.H, deviation)
			continue
		}
		for j, angle := range d.Angles {
			r := row(d, x, angle)
			c := make([]float64, s.unknowns)
			copy(c, r[:])
			c[constant] = 1
			s.add(c, corrected(d, j)-round(d, x, angle, at), deviation)
		}
		constant++
	}
	return s
}

// along is the standard error in mm of the line at a distance in mm from the
// coupling's plane, in the plane whose offset and angle are the unknowns o and a.
func (s *solved) along(o, a int, distance float64) float64 {
	arm := distance / 1000
	c := s.covariance
	return math.Sqrt(c.At(o, o) + 2*arm*c.At(o, a) + arm*arm*c.At(a, a))
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
	f := &Fit{Found: s.misalignment(), Freedom: len(s.system.rows) - s.system.unknowns}
	f.errors(&s, c.Dials, o)
	for i := range c.Dials {
		f.Dials = append(f.Dials, reduced(&c.Dials[i], c.X, s.state, s.constants[i]))
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
		scale = math.Sqrt(s.system.squares(s.x) / float64(f.Freedom))
		quantile = distuv.StudentsT{Sigma: 1, Nu: float64(f.Freedom)}.Quantile(0.975)
		f.Scatter = scale * usualError
	case stated(dials):
		f.Basis, scale, quantile = Stated, 1, wide
	}
	each := func(times float64) train.Misalignment {
		var e state
		for i := range e {
			e[i] = times * math.Sqrt(s.covariance.At(i, i))
		}
		return e.misalignment()
	}
	f.Standard, f.Half = each(scale), each(scale*quantile)
	f.FarV, f.FarH = math.NaN(), math.NaN()
	if o.Far > 0 {
		f.FarV = scale * quantile * math.Max(s.along(vOffset, vAngle, o.Far), s.along(vOffset, vAngle, -o.Far))
		f.FarH = scale * quantile * math.Max(s.along(hOffset, hAngle, o.Far), s.along(hOffset, hAngle, -o.Far))
	}
	if f.Basis == Unknown && o.Errors.Offset > 0 && o.Errors.Angle > 0 {
		f.Basis = Given
		t := train.Tilt{Offset: o.Errors.Offset, Angle: o.Errors.Angle}
		f.Half = train.Misalignment{V: t, H: t}
	}
}

func stated(dials []train.Dial) bool {
	for i := range dials {
		if dials[i].Error <= 0 {
			return false
		}
	}
	return true
}

// reduced is one dial's own share of a fit.
func reduced(d *train.Dial, x float64, s state, constant float64) Reduced {
	if d.Kind == train.OffsetDial {
		left, up := s.at(d.X - x)
		return Reduced{V: d.V, H: d.H, Residual: []float64{d.V - up, d.H - left}, Ring: math.NaN()}
	}
	r := Reduced{Ring: ring(d)}
	for i, angle := range d.Angles {
		v := corrected(d, i) - round(d, x, angle, s) - constant
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
