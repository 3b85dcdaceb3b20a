package robust

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// Quantile is the number of standard deviations below which a Gaussian stays in a
// share of all draws.
func Quantile(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }

// BackOff is, for every limit of a coupling in the order of the model's, the share of it that
// is left when it is held short by k standard deviations of its own errors, where the
// plan stands.
func BackOff(p *optimize.Plan, k float64) []float64 { return newErrorModel(p).backOff(k, true) }

// NarrowBackOff is that of what every plan with a chance keeps at each single limit: k standard
// deviations in the direction in which errors are smallest, without what side moves are off.
func NarrowBackOff(p *optimize.Plan, k float64) []float64 { return newErrorModel(p).backOff(k, false) }

// EvenBackOff is how many standard deviations every limit is held short by where each fails no
// more often than its part of what all may, for a chance of being within all of them.
func EvenBackOff(p *optimize.Plan, chance float64) float64 {
	return Quantile(1 - (1-chance)/float64(2*len(newErrorModel(p).tests)))
}

// backOff is, for every limit of a coupling in the order of a task's, the share of it
// that is left when it is held short by a number of standard deviations of its own
// errors: in the direction in which they are largest, side moves and all; or,
// wide being false, smallest, and without what side moves are off.
func (e *errorModel) backOff(k float64, wide bool) []float64 {
	var out []float64
	for n := range e.tests {
		v, h, both := e.variance(n, wide)
		switch {
		case e.tests[n].each && e.tests[n].Kind != train.LimitGap:
			out = append(out, 1-k*math.Sqrt(v), 1-k*math.Sqrt(h))
		case e.tests[n].Kind == train.LimitGap:
			out = append(out, 1-k*math.Sqrt(v))
		default:
			// The ends of the ellipse of deviations.
			middle, apart := (v+h)/2, math.Hypot((v-h)/2, both)
			if !wide {
				apart = -apart
			}
			out = append(out, 1-k*math.Sqrt(math.Max(0, middle+apart)))
		}
	}
	return out
}

// variance is that of the two rows of a test, and their covariance, in shares of the
// limit squared.
func (e *errorModel) variance(n int, sides bool) (v, h, both float64) {
	at := map[int][2]float64{}
	for d := range 2 {
		for _, t := range e.rows[2*n+d].entries {
			if by := at[t.error]; sides || e.single[e.of[t.error]].Source != optimize.FromPlacing {
				by[d] += t.by
				at[t.error] = by
			}
		}
	}
	for i := range e.of {
		by := at[i]
		v, h, both = v+by[0]*by[0], h+by[1]*by[1], both+by[0]*by[1]
	}
	return v, h, both
}

// BackedOff leaves a share of every coupling limit, in their order.
func BackedOff(shares []float64) func(k *optimize.Model) {
	return func(k *optimize.Model) {
		n := 0
		for i, l := range k.Labels {
			if l.Coupling >= 0 && l.Kind != train.LimitWarm {
				k.Problem.Limits[i].Radius *= shares[n]
				n++
			}
		}
		if n != len(shares) {
			panic("optimize: not as many limits as shares of them")
		}
	}
}
