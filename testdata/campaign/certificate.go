package main

import (
	"math"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// A certificate is what package certify says of a relaxed answer. Shares are
// those to which a statement had to be loosened before it could be proven;
// +Inf: it could not.
type certificate struct {
	Outside float64 // share of its limit by which the point is outside one
	Excess  float64 // mm or mrad, the most by which it is outside one
	Under   float64 // share of the optimum by which the proven bound is under the solver's
	Gap     float64 // of the point's value over the proven bound, as a share
}

// loosened are the shares that are tried, in turn.
var loosened = [...]float64{0, 1e-9, 2e-9, 1e-8, 1e-7, 1e-6}

// small is the movement in mm below which differences are not taken as shares
// of it but of small.
const small = 0.1

func share(difference, value float64) float64 {
	return math.Abs(difference) / math.Max(math.Abs(value), small)
}

// certified has a relaxed answer proven. The dual certificate for the bound comes from
// a cone program written here, not from the one that search wrote.
func certified(p *mip.Problem, use float64, r bnb.Relaxed) certificate {
	c := certificate{Outside: math.Inf(1), Under: math.Inf(1), Gap: math.Inf(1)}
	w := dualCertificate(p, use, r.Impossible())
	if r.Impossible() {
		c.Outside, c.Gap = 0, 0
		if proves(p, use, math.Inf(1), w) {
			c.Under = 0
		}
		return c
	}
	for _, s := range loosened {
		bound := r.Bound - s*math.Max(small, r.Bound)
		if r.Bound <= 0 || proves(p, use, bound, w) {
			c.Under = s
			c.Gap = math.Max(0, cost(p, r.X)-bound) / math.Max(small, r.Bound)
			break
		}
	}
	c.Excess = excess(p, use, r.X)
	fine, steps := nearest(p, r.X)
	for _, s := range loosened {
		if r.X != nil && certify.Keeps(fine, steps, use, s) == nil {
			c.Outside = s
			break
		}
	}
	return c
}

func proves(p *mip.Problem, use, bound float64, w *certify.DualCertificate) bool {
	claim := certify.Claim{Use: use, Cost: bound}
	claim.Lo, claim.Hi = box(p)
	return certify.Check(p, claim, &certify.Proof{Certificate: w}) == nil
}

// box is the problem's box in whole steps.
func box(p *mip.Problem) (lo, hi mip.Steps) {
	for _, v := range p.Vars {
		lo = append(lo, int(math.Ceil(v.Lo/v.Step-1e-9)))
		hi = append(hi, int(math.Floor(v.Hi/v.Step+1e-9)))
	}
	return lo, hi
}

// nearest is a point without steps as the nearest one of a grid so fine
// (1e-12 mm) that it makes no difference.
func nearest(p *mip.Problem, x []float64) (*mip.Problem, mip.Steps) {
	const grain = 0x1p-40 // mm
	fine := *p
	fine.Vars = append([]mip.Var(nil), p.Vars...)
	steps := make(mip.Steps, len(x))
	for j := range x {
		fine.Vars[j].Step = grain
		steps[j] = int(math.Round(x[j] / grain))
	}
	return &fine, steps
}

// excess is the most by which a point passes a limit, in the limit's own unit;
// 0 where it passes none.
func excess(p *mip.Problem, use float64, x []float64) float64 {
	var most float64
	for j, v := range x {
		most = math.Max(most, math.Max(v-p.Vars[j].Hi, p.Vars[j].Lo-v))
	}
	for _, l := range p.Limits {
		radius, length := l.Radius, 0.0
		if l.Shared {
			radius *= use
		}
		for _, r := range l.Rows {
			value := r.Constant
			for _, t := range r.Terms {
				value += t.Coefficient * x[t.Var]
			}
			length = math.Hypot(length, value)
		}
		most = math.Max(most, length-radius)
	}
	return most
}

func cost(p *mip.Problem, x []float64) float64 {
	var sum float64
	for j := range x {
		sum += p.Vars[j].Weight * math.Abs(x[j])
	}
	return sum
}
