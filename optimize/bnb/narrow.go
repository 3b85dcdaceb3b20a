package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// narrow shrinks a box to the steps at which a point better than the cutoff
// can be, from the multipliers z of a solve. For any z in the cone
//
//	cost(x) ≥ −h'z + Σ (weight_j |x_j| + y_j x_j),   y = slope + G'z,
//
// over the rows of the limits, so with all other variables at their best the
// term of x_j alone must stay under what is left to the cutoff. This is
// reduced-cost fixing; it needs no optimal multipliers to be right. Nil where
// there is nothing to go by.
func (r *relaxer) narrow(lo, hi mip.Steps, z []float64, cutoff float64) (mip.Steps, mip.Steps) {
	if r.goal.LeastUse || math.IsInf(cutoff, 1) {
		return nil, nil
	}
	p := &r.program
	y := make([]float64, len(p.Cost))
	bound, size := r.offset, math.Abs(r.offset)
	for i := range r.l.Limits {
		first := r.limit[i]
		if first < 0 {
			continue
		}
		rows := len(r.l.Limits[i].Rows) + 1
		for row := first; row < first+rows; row++ {
			bound -= p.H[row] * z[row]
			size += math.Abs(p.H[row] * z[row])
			for k := p.Start[row]; k < p.Start[row+1]; k++ {
				y[p.Col[k]] += p.Val[k] * z[row]
			}
		}
	}
	least := make([]float64, len(r.x))
	for j, v := range r.l.Vars {
		if c := r.x[j]; c >= 0 {
			y[c] += v.Slope
			least[j] = math.Min(term(v.Step, v.Weight, y[c], lo[j]), term(v.Step, v.Weight, y[c], hi[j]))
			if lo[j] < 0 && hi[j] > 0 {
				least[j] = math.Min(least[j], 0)
			}
			bound += least[j]
			size += math.Abs(least[j])
		}
	}
	bound -= rounding * size
	lo, hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
	for j, v := range r.l.Vars {
		c := r.x[j]
		if c < 0 {
			continue
		}
		left := cutoff - (bound - least[j])
		up, down := (v.Weight+y[c])*v.Step, (v.Weight-y[c])*v.Step // cost of one step away from zero, each way
		lo[j], hi[j] = affordable(lo[j], hi[j], left, up, down)
	}
	return lo, hi
}

// rounding is a safe share for the rounding error of a sum of some hundred
// products.
const rounding = 1e-11

// term is what a variable comes to by itself, at a price of a unit of its size.
func term(step, price, y float64, steps int) float64 {
	x := step * float64(steps)
	return price*math.Abs(x) + y*x
}

// atMost is the most steps, no more than most, that what is left can pay for.
func atMost(most int, left, price float64) int {
	if price <= 0 || left/price >= float64(most) {
		return most
	}
	return int(math.Floor(left/price + slack))
}

// affordable are the steps of a range that cost no more than what is left, at a cost of one step away from zero each
// way.
func affordable(lo, hi int, left, up, down float64) (int, int) {
	if left >= 0 {
		return -atMost(-lo, left, down), atMost(hi, left, up)
	}
	// Zero itself costs too much: the term must earn what is missing.
	if up < 0 {
		lo = max(lo, int(math.Ceil(left/up-slack)))
	}
	if down < 0 {
		hi = min(hi, -int(math.Ceil(left/down-slack)))
	}
	return lo, hi
}
