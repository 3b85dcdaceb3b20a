package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// An own is what a certificate comes to over a box at the least.
type own struct {
	y, least []float64 // of each variable: what it is multiplied by, and the least of its own term
	bound    float64   // on the cost, with rounding off; +Inf: the box holds no point, -Inf: nothing is known
}

// weighed weighs a certificate that prices the cost at 1, or at 0, over a box, with the limits as loose as there. What
// moving a block costs at all counts where the block can't stay; spread, it is shared out over the block's variables
// elsewhere.
func (r *relaxer) weighed(c *certify.DualCertificate, lo, hi mip.Steps, spread bool) own {
	out := own{y: make([]float64, len(lo)), least: make([]float64, len(lo))}
	var sum, size float64
	for i := range r.l.Limits {
		l := &r.l.Limits[i]
		var square float64
		for k, u := range c.Pull[r.l.rowStart[i]:r.l.rowStart[i+1]] {
			if u == 0 { // most of them
				continue
			}
			square += u * u
			sum += u * l.Rows[k].Constant
			size += math.Abs(u * l.Rows[k].Constant)
			for _, t := range l.Rows[k].Terms {
				out.y[t.Var] += u * t.Coefficient
			}
		}
		if square > 0 {
			radius := math.Sqrt(square) * r.radius(i)
			sum -= radius
			size += radius
		}
	}
	for b := range r.blocks {
		fixed, extra := r.fixedCost(b, lo, hi)
		sum += c.Price * fixed
		for j := r.l.first[b]; j < r.l.first[b+1]; j++ {
			v := &r.l.Vars[j]
			weight := v.Weight
			if spread {
				weight += extra(j)
			}
			weight *= c.Price
			out.y[j] += c.Price * v.Slope
			least := math.Min(term(v.Step, weight, out.y[j], lo[j]), term(v.Step, weight, out.y[j], hi[j]))
			if lo[j] < 0 && hi[j] > 0 {
				least = math.Min(least, 0)
			}
			out.least[j] = least
			sum += least
			size += math.Abs(least)
		}
	}
	switch out.bound = sum - rounding*size; {
	case c.Price == 0 && out.bound > 0:
		out.bound = math.Inf(1)
	case c.Price == 0:
		out.bound = math.Inf(-1)
	}
	return out
}

// narrow shrinks a box to the steps at which a point better than the cutoff
// can be, by a certificate with the cost priced at 1. For any pulls u
//
//	cost(x) ≥ Σ (u·constants − |u| radius) + Σ (weight_j |x_j| + y_j x_j),   y = slope + Σ u·rows,
//
// over the limits, so with all other variables at their best the
// term of x_j alone must stay under what is left to the cutoff. This is
// reduced-cost fixing; it needs no optimal multipliers to be right. Nil where
// there is nothing to go by. known is what the certificate comes to with what moving a block costs spread, which is
// the same where that costs nothing by itself; nil: it was not weighed.
func (r *relaxer) narrow(lo, hi mip.Steps, c *certify.DualCertificate, known *own,
	cutoff float64) (mip.Steps, mip.Steps) {
	if r.goal.LeastUse || c == nil || math.IsInf(cutoff, 1) {
		return nil, nil
	}
	var w own
	if known != nil && len(r.l.FixedCost) == 0 {
		w = *known
	} else {
		w = r.weighed(c, lo, hi, false)
	}
	lo, hi = append(mip.Steps(nil), lo...), append(mip.Steps(nil), hi...)
	for j, v := range r.l.Vars {
		if lo[j] == hi[j] {
			continue
		}
		left := cutoff - (w.bound - w.least[j])
		up, down := (v.Weight+w.y[j])*v.Step, (v.Weight-w.y[j])*v.Step // cost of one step away from zero, each way
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
