package certify

import (
	"math"

	"leastmove/optimize/mip"
)

// roughly weighs a node's dual certificate in floating point with all rounding errors
// counted. It says whether the box is closed for certain and, if not, whether
// what the node cuts off is empty for certain; false means "not decided here".
//
// Everything summed is a sum of products of at most five numbers of the
// problem, the claim and the dual certificate. With n such products, summed in any
// order, the result is off by at most γ Σ|products| with
// γ = k ε / (1 − k ε), k = n + 8, ε = 2⁻⁵³.
func (k *checker) roughly(n *Proof, lo, hi mip.Steps, off looseness) (closed, narrowed bool) {
	p, w := k.problem, n.Certificate
	price := func(j int) float64 { // of a unit of |x_j|
		if off.each == nil {
			return w.Price * p.Vars[j].Weight
		}
		return w.Price*p.Vars[j].Weight - off.each[j]
	}
	y, size := make([]float64, len(p.Vars)), make([]float64, len(p.Vars)) // of each slope, and of what was summed
	var sum, all float64
	for j := range p.Vars {
		y[j] = w.Price * p.Vars[j].Slope
		size[j] = math.Abs(y[j])
	}
	terms, row := len(p.Vars), 0
	for i := range p.Limits {
		l := &p.Limits[i]
		var square float64
		for r := range l.Rows {
			u := w.Pull[row]
			row++
			if u == 0 {
				continue
			}
			square += u * u
			sum += u * l.Rows[r].Constant
			all += math.Abs(u * l.Rows[r].Constant)
			for _, t := range l.Rows[r].Terms {
				c := u * t.Coefficient
				y[t.Var] += c
				size[t.Var] += math.Abs(c)
				terms++
			}
			terms++
		}
		if square > 0 {
			pull := math.Sqrt(square) * l.Radius
			if l.Shared {
				pull *= k.claim.Use
			}
			if off.loose != nil {
				pull += math.Sqrt(square) * off.loose[i]
			}
			sum -= pull
			all += math.Abs(pull)
			terms += 5 // a root of a sum of three squares, with its own roundings
		}
	}
	if w.Price > 0 {
		sum -= w.Price * k.claim.Cost
		all += w.Price * math.Abs(k.claim.Cost)
		terms++
	}
	sum -= off.fixed
	all += off.fixed
	alone := sum // as in weighed.separate
	for first := 0; first < len(p.Vars); {
		var block, paid float64
		still, last, b := true, first, p.Vars[first].Block
		for ; last < len(p.Vars) && p.Vars[last].Block == b; last++ {
			v := p.Vars[last]
			far := v.Step * float64(max(-lo[last], hi[last], lo[last], -hi[last]))
			all += (w.Price*v.Weight + size[last]) * far
			if off.each != nil {
				all += off.each[last] * far
			}
			block += least(v.Step, price(last), y[last], lo[last], hi[last])
			still = still && lo[last] <= 0 && hi[last] >= 0
			terms += 3
		}
		alone += block
		if p.FixedCost != nil {
			paid = w.Price * p.FixedCost[b]
			all += paid
			terms++
			switch {
			case !still:
				alone += paid
				block += paid
			case block+paid > 0:
				block = 0
			default:
				block += paid
			}
		}
		sum += block
		first = last
	}
	const epsilon = 0x1p-53
	gamma := float64(terms+8) * epsilon
	gamma /= 1 - gamma
	most := 2 * gamma * all // of rounding; twice: all is rounded too
	if math.IsNaN(sum) || math.IsInf(all, 0) {
		return false, false
	}
	if sum > most {
		return true, false
	}
	if n.Lo == nil {
		return false, false
	}
	for j, v := range p.Vars {
		without := alone - least(v.Step, price(j), y[j], lo[j], hi[j])
		if cut := min(n.Lo[j]-1, hi[j]); cut >= lo[j] && !(without+least(v.Step, price(j), y[j], lo[j], cut) > most) {
			return false, false
		}
		if cut := max(n.Hi[j]+1, lo[j]); cut <= hi[j] && !(without+least(v.Step, price(j), y[j], cut, hi[j]) > most) {
			return false, false
		}
	}
	return false, true
}

// least is the smallest value of a variable's own term over lo..hi, at a price of a unit of its size.
func least(step, price, y float64, lo, hi int) float64 {
	term := func(n int) float64 {
		x := step * float64(n)
		return price*math.Abs(x) + y*x
	}
	best := math.Min(term(lo), term(hi))
	if lo < 0 && hi > 0 {
		best = math.Min(best, 0)
	}
	return best
}
