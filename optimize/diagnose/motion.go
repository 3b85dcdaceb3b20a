package diagnose

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"leastmove/train"
)

// A Motion is how one machine went, as far as the couplings tell.
type Motion struct {
	Stations []Station
}

// A Station is one foot station of a machine: up and left, planned and as the
// readings and the errors of placing have it, with 95 % half-widths, all in mm.
type Station struct {
	Feet                        []int
	PlannedUp, Up, HalfUp       float64
	PlannedLeft, Left, HalfLeft float64
}

// motions are the most likely motions under an explanation, nil being errors
// alone. With c a linear form of what a machine is off by,
//
//	E c = c(known) + Cov(c, y) S⁻¹ (y - μ),   Var c = Var₀ c - Cov S⁻¹ Covᵀ
//
// S having the directions of the explanation in it.
func (j *judge) motions(best *candidate) ([]Motion, error) {
	n := len(j.rows)
	s := mat.NewSymDense(n, nil)
	s.CopySym(j.s)
	dirs := j.placing
	rest := append([]float64(nil), j.y...)
	var known map[int]train.Motion
	if best != nil {
		known = best.moved
		dirs = append(append([]direction(nil), dirs...), best.free...)
		for _, d := range best.free {
			s.SymRankOne(s, 1, mat.NewVecDense(n, d.shown))
		}
		for i := range best.shift {
			rest[i] -= best.shift[i]
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(s) {
		return nil, errors.New("the errors of reading and placing are too small to be worked with")
	}
	weights := mat.NewVecDense(n, nil)
	if err := chol.SolveVecTo(weights, mat.NewVecDense(n, rest)); err != nil {
		return nil, err
	}
	form := func(i int, f train.Form) (mean, half float64, err error) {
		cov := mat.NewVecDense(n, nil)
		var variance float64
		for _, d := range dirs {
			if d.machine != i {
				continue
			}
			by := f.Of(d.motion)
			variance += by * by
			for k, v := range d.shown {
				cov.SetVec(k, cov.AtVec(k)+by*v)
			}
		}
		mean = f.Of(known[i]) + mat.Dot(cov, weights)
		x := mat.NewVecDense(n, nil)
		if err := chol.SolveVecTo(x, cov); err != nil {
			return 0, 0, err
		}
		return mean, train.Half95 * math.Sqrt(math.Max(0, variance-mat.Dot(cov, x))), nil
	}
	var out []Motion
	for i := range j.t.Machines {
		m := &j.t.Machines[i]
		kin := &j.kinematics[i]
		q := kin.Motion(j.c.Moves[i])
		var motion Motion
		for _, feet := range m.Stations() {
			s := Station{Feet: feet}
			var up, left train.Form
			for _, f := range feet {
				up = up.Plus(1/float64(len(feet)), kin.UpAt(f))
				left = left.Plus(1/float64(len(feet)), kin.LeftAt(f))
			}
			for _, p := range []struct {
				form                *train.Form
				planned, mean, half *float64
			}{{&up, &s.PlannedUp, &s.Up, &s.HalfUp}, {&left, &s.PlannedLeft, &s.Left, &s.HalfLeft}} {
				off, half, err := form(i, *p.form)
				if err != nil {
					return nil, err
				}
				*p.planned = p.form.Of(q)
				*p.mean, *p.half = *p.planned+off, half
			}
			motion.Stations = append(motion.Stations, s)
		}
		out = append(out, motion)
	}
	return out, nil
}
