package readings

import (
	"math"

	"leastmove/train"
)

// A solved is a fit of some dials.
type solved struct {
	state
	system   system
	solution solution
}

// settled in mm and mrad is the change from which on another pass changes
// nothing; true geometry needs three or four.
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
		out = solved{state(solution.x), system, solution}
		change := 0.0
		for i := range before {
			change = math.Max(change, math.Abs(out.state[i]-before[i]))
		}
		if change < settled {
			break
		}
	}
	return out, true
}

// equations are those of the package comment, linear in the shared unknowns,
// what true geometry adds taken from a state. The constant of a dial is
// eliminated: least squares set it to the mean of what is left, so that the
// means are taken out of its equations beforehand.
func equations(dials []train.Dial, x float64, at state) system {
	s := system{unknowns: shared}
	for i := range dials {
		d := &dials[i]
		deviation := standard(d)
		if d.Kind == train.OffsetDial {
			arm := (d.X - x) / 1000
			s.add([]float64{vOffset: 1, vAngle: arm}, d.V, deviation)
			s.add([]float64{hOffset: 1, hAngle: arm}, d.H, deviation)
			continue
		}
		mean := constant(d, x, at, state{})
		var rows state
		for _, angle := range d.Angles {
			for k, c := range row(d, x, angle) {
				rows[k] += c / float64(len(d.Angles))
			}
		}
		for j, angle := range d.Angles {
			r := row(d, x, angle)
			for k := range r {
				r[k] -= rows[k]
			}
			s.add(r[:], corrected(d, j)-round(d, x, angle, at)-mean, deviation)
		}
		s.eliminated++
	}
	return s
}

// constant is the mean in mm of what a dial shows beyond the linear part of a
// state; geometry is the state that what is not linear is taken from.
func constant(d *train.Dial, x float64, geometry, linear state) float64 {
	sum := 0.0
	for j, angle := range d.Angles {
		sum += corrected(d, j) - round(d, x, angle, geometry)
		for k, c := range row(d, x, angle) {
			sum -= c * linear[k]
		}
	}
	return sum / float64(len(d.Angles))
}

// covariance is that of the unknowns o and a, an offset and an angle.
func (s *solved) covariance(o, a int) train.Covariance {
	c := s.solution.covariance
	return train.Covariance{Offset: c.At(o, o), Cross: c.At(o, a), Angle: c.At(a, a)}
}
