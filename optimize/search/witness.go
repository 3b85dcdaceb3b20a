package search

import (
	"math"

	"leastmove/optimize/certify"
)

// witness are the multipliers z of the last solve as package certify weighs
// them: for each row of each limit, what it is multiplied by.
func (r *relaxer) witness(z []float64, ray bool) *certify.Witness {
	w := &certify.Witness{Pull: make([]float64, 0, len(r.l.constant))}
	for i := range r.l.Limits {
		rows, first := len(r.l.Limits[i].Rows), r.limit[i]
		for k := range rows {
			switch {
			case first < 0:
				w.Pull = append(w.Pull, 0)
			case rows == 1:
				w.Pull = append(w.Pull, z[first]-z[first+1])
			default:
				w.Pull = append(w.Pull, -z[first+1+k])
			}
		}
	}
	switch {
	case r.goal.LeastUse && r.capRow >= 0:
		w.Price = z[r.capRow]
	case !r.goal.LeastUse && !ray:
		w.Price = 1
	}
	return w
}

// blame is the witness that a limit whose variables are all fixed is exceeded.
func (r *relaxer) blame(i int) *certify.Witness {
	w := &certify.Witness{Pull: make([]float64, len(r.l.constant))}
	var square float64
	values := make([]float64, 0, 3)
	for _, row := range r.l.Limits[i].Rows {
		v := row.Constant
		for _, t := range row.Terms {
			v += t.Coefficient * r.fixed[t.Var]
		}
		values = append(values, v)
		square += v * v
	}
	for k, v := range values {
		w.Pull[r.l.rowStart[i]+k] = v / math.Sqrt(square)
	}
	return w
}
