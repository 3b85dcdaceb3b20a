package bnb

import (
	"math"

	"leastmove/optimize/certify"
)

// certificate are the multipliers z of the last solve as package certify weighs
// them: for each row of each limit, what it is multiplied by.
func (r *relaxer) certificate(z []float64, ray bool) *certify.DualCertificate {
	w := &certify.DualCertificate{Pull: make([]float64, len(r.l.constant))}
	for i := range r.l.Limits {
		pull, first := w.Pull[r.l.rowStart[i]:r.l.rowStart[i+1]], r.limit[i]
		switch {
		case r.still[i] >= 0:
			r.outwards(i, z[r.still[i]], pull)
		case first < 0:
		case len(pull) == 1:
			pull[0] = z[first] - z[first+1]
		default:
			for k := range pull {
				pull[k] = -z[first+1+k]
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

// certificateOf is the dual certificate that a limit whose variables are all fixed is exceeded.
func (r *relaxer) certificateOf(i int) *certify.DualCertificate {
	w := &certify.DualCertificate{Pull: make([]float64, len(r.l.constant))}
	r.outwards(i, 1, w.Pull[r.l.rowStart[i]:r.l.rowStart[i+1]])
	return w
}

// outwards is the pull of a given length along the rows of a limit whose
// variables are all fixed.
func (r *relaxer) outwards(i int, length float64, pull []float64) {
	var square float64
	for k, row := range r.l.Limits[i].Rows {
		pull[k] = row.Constant
		for _, t := range row.Terms {
			pull[k] += t.Coefficient * r.fixed[t.Var]
		}
		square += pull[k] * pull[k]
	}
	if square == 0 {
		return
	}
	for k := range pull {
		pull[k] *= length / math.Sqrt(square)
	}
}
