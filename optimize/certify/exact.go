package certify

import (
	"fmt"
	"math"
	"math/big"

	"leastmove/optimize/mip"
)

// weighed is a dual certificate multiplied out exactly: the part that no variable
// enters, and what the first step of each variable up and down from zero adds.
type weighed struct {
	constant *big.Rat
	up, down []*big.Rat
	fixed    []*big.Rat // λ times the fixed cost of each block; nil: none
	block    []int      // of each variable
	priced   bool       // λ > 0
}

// weigh multiplies a dual certificate out, with what rows may be off; nil where it
// pulls at one that is off without end.
func (k *checker) weigh(w *DualCertificate, off looseness) *weighed {
	if math.IsInf(off.fixed, 1) {
		return nil
	}
	n := len(k.step)
	out := &weighed{constant: new(big.Rat), up: make([]*big.Rat, n), down: make([]*big.Rat, n), priced: w.Price > 0}
	y := make([]*big.Rat, n)
	row := 0
	for i := range k.problem.Limits {
		l := &k.problem.Limits[i]
		u := w.Pull[row : row+len(l.Rows)]
		row += len(l.Rows)
		for r, v := range u {
			if v == 0 {
				continue
			}
			pull := rat(v)
			out.constant.Add(out.constant, new(big.Rat).Mul(pull, rat(l.Rows[r].Constant)))
			for _, t := range l.Rows[r].Terms {
				if y[t.Var] == nil {
					y[t.Var] = new(big.Rat)
				}
				y[t.Var].Add(y[t.Var], new(big.Rat).Mul(pull, rat(t.Coefficient)))
			}
		}
		pull := length(u)
		radius := k.radius[i]
		switch {
		case off.loose == nil || pull.Sign() == 0:
		case math.IsInf(off.loose[i], 1):
			return nil
		default:
			radius = new(big.Rat).Add(radius, rat(off.loose[i]))
		}
		out.constant.Sub(out.constant, pull.Mul(pull, radius))
	}
	out.constant.Sub(out.constant, rat(off.fixed))
	price := rat(w.Price)
	if out.priced {
		out.constant.Sub(out.constant, new(big.Rat).Mul(price, rat(k.claim.Cost)))
	}
	for _, t := range k.problem.FixedCost {
		out.fixed = append(out.fixed, new(big.Rat).Mul(price, rat(t)))
	}
	for j := range k.step {
		out.block = append(out.block, k.problem.Vars[j].Block)
		weight, slope := new(big.Rat).Mul(price, k.weight[j]), new(big.Rat)
		if off.each != nil {
			weight.Sub(weight, new(big.Rat).Mul(rat(off.each[j]), k.step[j]))
		}
		if y[j] != nil {
			slope.Mul(y[j], k.step[j])
		}
		slope.Add(slope, new(big.Rat).Mul(price, k.slope[j]))
		out.up[j] = new(big.Rat).Add(weight, slope)
		out.down[j] = weight.Sub(weight, slope)
	}
	return out
}

// closes says whether a weight leaves no room for a point.
func (w *weighed) closes(total *big.Rat) bool {
	return total.Sign() > 0 || total.Sign() == 0 && w.priced
}

// least is the smallest value of variable j's own term over lo..hi.
func (w *weighed) least(j, lo, hi int) *big.Rat {
	best := w.term(j, lo)
	if v := w.term(j, hi); v.Cmp(best) < 0 {
		best = v
	}
	if lo < 0 && hi > 0 && best.Sign() > 0 {
		best = new(big.Rat)
	}
	return best
}

func (w *weighed) term(j, n int) *big.Rat {
	if n >= 0 {
		return new(big.Rat).Mul(w.up[j], new(big.Rat).SetInt64(int64(n)))
	}
	return new(big.Rat).Mul(w.down[j], new(big.Rat).SetInt64(int64(-n)))
}

// total is the smallest value of the whole over a box.
func (w *weighed) total(lo, hi mip.Steps) *big.Rat {
	sum := new(big.Rat).Set(w.constant)
	for first := 0; first < len(lo); {
		block, still := new(big.Rat), true
		last := first
		for ; last < len(lo) && w.block[last] == w.block[first]; last++ {
			block.Add(block, w.least(last, lo[last], hi[last]))
			still = still && lo[last] <= 0 && hi[last] >= 0
		}
		if w.fixed != nil {
			block.Add(block, w.fixed[w.block[first]])
			if still && block.Sign() > 0 {
				block.SetInt64(0)
			}
		}
		sum.Add(sum, block)
		first = last
	}
	return sum
}

// separate is a lower bound on total in which every variable's term stands
// alone: only blocks that cannot stay as they are have their fixed cost.
func (w *weighed) separate(lo, hi mip.Steps) *big.Rat {
	sum, paid := new(big.Rat).Set(w.constant), -1
	for j := range lo {
		sum.Add(sum, w.least(j, lo[j], hi[j]))
		if b := w.block[j]; w.fixed != nil && b != paid && (lo[j] > 0 || hi[j] < 0) {
			sum.Add(sum, w.fixed[b])
			paid = b
		}
	}
	return sum
}

// narrows verifies that what a node cuts off its box holds no point.
func (w *weighed) narrows(n *Proof, lo, hi mip.Steps) error {
	if n.Lo == nil {
		return nil
	}
	total := w.separate(lo, hi)
	for j := range lo {
		without := new(big.Rat).Sub(total, w.least(j, lo[j], hi[j]))
		if cut := min(n.Lo[j]-1, hi[j]); cut >= lo[j] && !w.closes(new(big.Rat).Add(without, w.least(j, lo[j], cut))) {
			return fmt.Errorf("variable %d is cut off below %d without reason", j, n.Lo[j])
		}
		if cut := max(n.Hi[j]+1, lo[j]); cut <= hi[j] && !w.closes(new(big.Rat).Add(without, w.least(j, cut, hi[j]))) {
			return fmt.Errorf("variable %d is cut off above %d without reason", j, n.Hi[j])
		}
	}
	return nil
}

// length is a rational that is at least the Euclidean length of u, and hardly
// more.
func length(u []float64) *big.Rat {
	if len(u) == 1 {
		return rat(math.Abs(u[0]))
	}
	square := new(big.Rat)
	var f float64
	for _, v := range u {
		r := rat(v)
		square.Add(square, r.Mul(r, r))
		f = math.Hypot(f, v)
	}
	for {
		r := rat(f)
		if new(big.Rat).Mul(r, r).Cmp(square) >= 0 {
			return r
		}
		f = math.Nextafter(f, math.Inf(1))
	}
}

// rat is a finite float's exact value.
func rat(f float64) *big.Rat {
	r := new(big.Rat).SetFloat64(f)
	if r == nil {
		panic("certify: a number of the problem is not finite")
	}
	return r
}
