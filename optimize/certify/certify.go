// Package certify proves, in exact rational arithmetic, what a search says of
// a lattice problem. It trusts nothing of the search: not its arithmetic, not
// its bounds, not its tree. It imports the statement of the problem and
// nothing else.
//
// # What is proven
//
// A Proof shows that no lattice point in a box keeps every limit at a use U
// and costs less than C. With C a plan's total it says that no plan is
// smaller; with C infinite, that there is none.
//
// For any row of numbers u_i for each limit i and any λ ≥ 0, every point that
// keeps the limits and costs less than C has
//
//	0 > Σ_i (u_i·rows_i(x) − |u_i| radius_i) + λ (Σ_j weight_j |x_j| − C)
//	  ≥ Σ_i (u_i·constants_i − |u_i| radius_i) − λ C + Σ_j min over the box of (λ weight_j |x_j| + y_j x_j)
//
// where y collects what the u_i multiply the variables by; the first line
// holds since u·r ≤ |u| |r|. So where the last line is 0 or more (more than 0
// where λ is 0) the box holds no such point. The numbers u come from the
// multipliers of a cone program, but any that work will do: this is weak
// duality, with the box to pay for what is left over (compare Neumaier and
// Shcherbina, "Safe bounds in linear and mixed-integer linear programming",
// Mathematical Programming 99, 2004).
package certify

import (
	"fmt"
	"math"
	"math/big"

	"leastmove/optimize/lattice"
)

// A Claim is what is to be proven: in the box Lo..Hi, in steps, no point keeps
// every limit at Use and costs less than Cost (+Inf: at any cost).
type Claim struct {
	Lo, Hi lattice.Steps
	Use    float64
	Cost   float64
}

// A Proof is a tree of boxes. A node first may narrow its box, with Witness
// saying why nothing was lost, and then is closed by its Witness or split.
type Proof struct {
	Witness *Witness      // nil: none
	Lo, Hi  lattice.Steps // the narrowed box; nil: not narrowed
	Var     int           // split: Below has x ≤ At, Above x ≥ At+1
	At      int
	Below   *Proof // nil with Above: not split
	Above   *Proof
}

// A Witness is the numbers that close or narrow a box.
type Witness struct {
	Price float64     // λ
	Pull  [][]float64 // u_i, as many numbers as limit i has rows; nil: zeros
}

// Check verifies a proof of a claim; the error says what does not hold.
func Check(p *lattice.Problem, c Claim, proof *Proof) error {
	k := newChecker(p, c)
	if len(c.Lo) != len(p.Vars) || len(c.Hi) != len(p.Vars) {
		return fmt.Errorf("the box has %d and %d sides for %d variables", len(c.Lo), len(c.Hi), len(p.Vars))
	}
	return k.node(proof, append(lattice.Steps(nil), c.Lo...), append(lattice.Steps(nil), c.Hi...))
}

// Keeps verifies that a point keeps its box and every limit at a use, each to
// a share of slack; the error names the limit by its index.
func Keeps(p *lattice.Problem, s lattice.Steps, use, slack float64) error {
	over := new(big.Rat).Add(big.NewRat(1, 1), rat(slack))
	x := make([]*big.Rat, len(s))
	for j, v := range p.Vars {
		x[j] = new(big.Rat).Mul(rat(v.Step), new(big.Rat).SetInt64(int64(s[j])))
		if x[j].Cmp(new(big.Rat).Sub(rat(v.Lo), rat(slack))) < 0 || x[j].Cmp(new(big.Rat).Add(rat(v.Hi), rat(slack))) > 0 {
			return fmt.Errorf("variable %d is outside its range", j)
		}
	}
	for i, l := range p.Limits {
		length := new(big.Rat)
		for _, r := range l.Rows {
			value := rat(r.Constant)
			for _, t := range r.Terms {
				value.Add(value, new(big.Rat).Mul(rat(t.Coefficient), x[t.Var]))
			}
			length.Add(length, value.Mul(value, value))
		}
		radius := new(big.Rat).Mul(rat(l.Radius), over)
		if l.Shared {
			radius.Mul(radius, rat(use))
		}
		if length.Cmp(radius.Mul(radius, radius)) > 0 {
			return fmt.Errorf("limit %d is exceeded", i)
		}
	}
	return nil
}

type checker struct {
	problem *lattice.Problem
	claim   Claim
	step    []*big.Rat // of each variable
	weight  []*big.Rat // of one step
	radius  []*big.Rat // of each limit at the claimed use
}

func newChecker(p *lattice.Problem, c Claim) *checker {
	k := &checker{problem: p, claim: c}
	for _, v := range p.Vars {
		step := rat(v.Step)
		k.step = append(k.step, step)
		k.weight = append(k.weight, new(big.Rat).Mul(rat(v.Weight), step))
	}
	for _, l := range p.Limits {
		r := rat(l.Radius)
		if l.Shared {
			r.Mul(r, rat(c.Use))
		}
		k.radius = append(k.radius, r)
	}
	return k
}

func (k *checker) node(n *Proof, lo, hi lattice.Steps) error {
	if n == nil {
		return fmt.Errorf("a box is left open: %v to %v", lo, hi)
	}
	for j := range lo {
		if lo[j] > hi[j] {
			return nil // nothing in it
		}
	}
	if n.Witness != nil {
		w, err := k.weigh(n.Witness)
		if err != nil {
			return err
		}
		if w.closes(w.total(lo, hi)) {
			return nil
		}
		if n.Lo != nil {
			if lo, hi, err = w.narrow(n, lo, hi); err != nil {
				return err
			}
			for j := range lo {
				if lo[j] > hi[j] {
					return nil
				}
			}
		}
	}
	if n.Below == nil && n.Above == nil {
		return fmt.Errorf("a box is neither closed nor split: %v to %v", lo, hi)
	}
	if n.Var < 0 || n.Var >= len(lo) {
		return fmt.Errorf("a box is split at variable %d of %d", n.Var, len(lo))
	}
	below, above := append(lattice.Steps(nil), hi...), append(lattice.Steps(nil), lo...)
	below[n.Var] = min(hi[n.Var], n.At)
	above[n.Var] = max(lo[n.Var], n.At+1)
	if err := k.node(n.Below, lo, below); err != nil {
		return err
	}
	return k.node(n.Above, above, hi)
}

// weighed is a witness multiplied out: the part that no variable enters, and
// the slope of each variable's own term to both sides of zero, per step.
type weighed struct {
	constant *big.Rat
	up, down []*big.Rat // cost of the first step up and of the first step down
	price    int        // sign of λ
}

func (k *checker) weigh(w *Witness) (*weighed, error) {
	if len(w.Pull) != len(k.problem.Limits) || !(w.Price >= 0) || math.IsInf(w.Price, 1) {
		return nil, fmt.Errorf("a witness has numbers for %d limits of %d", len(w.Pull), len(k.problem.Limits))
	}
	n := len(k.step)
	out := &weighed{constant: new(big.Rat), up: make([]*big.Rat, n), down: make([]*big.Rat, n)}
	y := make([]*big.Rat, n)
	for i, u := range w.Pull {
		if u == nil {
			continue
		}
		l := &k.problem.Limits[i]
		if len(u) != len(l.Rows) {
			return nil, fmt.Errorf("limit %d has %d rows, its witness %d numbers", i, len(l.Rows), len(u))
		}
		for r, v := range u {
			if v == 0 {
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("a witness of limit %d is not a number", i)
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
		out.constant.Sub(out.constant, new(big.Rat).Mul(length(u), k.radius[i]))
	}
	price := rat(w.Price)
	out.price = price.Sign()
	if out.price > 0 {
		if math.IsInf(k.claim.Cost, 1) {
			return nil, fmt.Errorf("a witness prices a cost that is not limited")
		}
		out.constant.Sub(out.constant, new(big.Rat).Mul(price, rat(k.claim.Cost)))
	}
	for j := range k.step {
		weight := new(big.Rat).Mul(price, k.weight[j])
		slope := new(big.Rat)
		if y[j] != nil {
			slope.Mul(y[j], k.step[j])
		}
		out.up[j] = new(big.Rat).Add(weight, slope)
		out.down[j] = weight.Sub(weight, slope)
	}
	return out, nil
}

// closes says whether a weight leaves no room for a point.
func (w *weighed) closes(total *big.Rat) bool {
	return total.Sign() > 0 || total.Sign() == 0 && w.price > 0
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

func (w *weighed) total(lo, hi lattice.Steps) *big.Rat {
	sum := new(big.Rat).Set(w.constant)
	for j := range lo {
		sum.Add(sum, w.least(j, lo[j], hi[j]))
	}
	return sum
}

// narrow verifies that what a node cuts off its box holds no point.
func (w *weighed) narrow(n *Proof, lo, hi lattice.Steps) (lattice.Steps, lattice.Steps, error) {
	total := w.total(lo, hi)
	outLo, outHi := append(lattice.Steps(nil), lo...), append(lattice.Steps(nil), hi...)
	for j := range lo {
		without := new(big.Rat).Sub(total, w.least(j, lo[j], hi[j]))
		if n.Lo[j] > lo[j] {
			cut := min(n.Lo[j]-1, hi[j])
			if !w.closes(new(big.Rat).Add(without, w.least(j, lo[j], cut))) {
				return nil, nil, fmt.Errorf("variable %d is cut off below %d without reason", j, n.Lo[j])
			}
			outLo[j] = n.Lo[j]
		}
		if n.Hi[j] < hi[j] {
			cut := max(n.Hi[j]+1, lo[j])
			if !w.closes(new(big.Rat).Add(without, w.least(j, cut, hi[j]))) {
				return nil, nil, fmt.Errorf("variable %d is cut off above %d without reason", j, n.Hi[j])
			}
			outHi[j] = n.Hi[j]
		}
	}
	return outLo, outHi, nil
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
