// Package certify proves what a search says of a mixed-integer problem. It trusts nothing of the search: not its
// cone programs,
// not its bounds, not its tree. It imports the statement of the problem and
// nothing else.
//
// # What is proven
//
// A Proof shows that no integer point in a box keeps every limit at a use U
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
// holds since u·r ≤ |u| |r|. What it costs to touch a block of variables at all
// goes with the block's terms: they come to 0 if all its variables are 0, else
// to no less than their sum and λ times that cost. So where the last line is 0 or more (more than 0
// where λ is 0) the box holds no such point. The numbers u come from the
// multipliers of a cone program, but any that work will do: this is weak
// duality, with the box to pay for what is left over (compare Neumaier and
// Shcherbina, "Safe bounds in linear and mixed-integer linear programming",
// Mathematical Programming 99, 2004).
//
// Where rows stand for functions that are not affine, each radius is longer by what the
// rows may be off in the box (mip.Problem.Loose), so that what is proven holds for the
// functions. That the bounds of Loose are right is their maker's to show.
//
// A certificate may have the variables pay for that instead: since u·r is off by at most Σ |u_r| off_r,
// which is at most e + Σ_j d_j |x_j| (mip.Problem.Paid), no radius is longer, λ weight_j is less by d_j
// and the sum by e.
//
// Before that a box is narrowed (where rows are off, first to what costs less than C,
// variable by variable) by interval arithmetic on single limits
// (mip.Problem.Narrow), as the search narrows it, and its ends are brought
// in from steps that are barred. So a box may be split between two steps that a
// variable may take, and is empty where it holds none.
//
// A box may also be closed by a walk along the chain (mip.Problem.Walk): all whole steps of the variables of one way
// that single rows leave are gone through, block by block. Or by a few neighbouring blocks by themselves (Stretch):
// what they alone can't keep, the chain can't.
//
// # Arithmetic
//
// A dual certificate is weighed in exact rational arithmetic. As that costs some
// thousand times what floating point does and a proof may have thousands of
// boxes, each box is first weighed in floating point with a bound on all
// rounding errors beside the sum (Higham, "Accuracy and Stability of Numerical
// Algorithms", 2nd ed., lemma 3.1); only where that bound leaves the sign open,
// and always for a point and for the box as a whole, the rationals decide.
package certify

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"runtime"

	"leastmove/optimize/mip"
)

// A Claim is what is to be proven: in the box Lo..Hi, in steps, no point where
// the variables may be keeps every limit at Use and costs less than Cost (+Inf:
// at any cost).
type Claim struct {
	Lo, Hi mip.Steps
	Use    float64
	Cost   float64
	// Limits are those that are in the proof, in its order; nil: all of the problem's. What
	// no point does that keeps these, none does that keeps all.
	Limits []int
	// Refuses says of a point that keeps the limits whether it fails all the
	// same, for a reason that the problem does not state; nil: none does.
	Refuses func(mip.Steps) bool
}

// A Proof is a tree of boxes. A node first may narrow its box, with Certificate
// saying why nothing was lost, and then is closed by its Certificate or split. A
// box of a single point needs no Certificate: the point itself is judged.
type Proof struct {
	Certificate *DualCertificate // nil: none
	Lo, Hi      mip.Steps        // the narrowed box; nil: not narrowed
	Var         int              // split: Below has x ≤ At, Above x ≥ At+1
	At          int
	Below       *Proof // nil with Above: not split
	Above       *Proof
	Parts       *Parts   // closes the box by parts of the chain; nil: not so
	Turns       *Turns   // caps turns and goes on; nil: not so
	Way         int      // the variables by which a walk closes the box (mip.Problem.Walk); 0: not so
	Stretch     *Stretch // closes the box by a few blocks of the chain by themselves; nil: not so
}

// A DualCertificate is the numbers that close or narrow a box.
type DualCertificate struct {
	Price float64   // λ, 0 or more
	Pull  []float64 // u: one number for each row of each limit, in their order
	// Paid are the turns whose size the variables pay for (mip.Problem.Paid), ascending; nil: limits are as loose as
	// they are over the box.
	Paid []int
}

// Check verifies a proof of a claim; the error says what does not hold.
func Check(p *mip.Problem, c Claim, proof *Proof) error { return CheckUntil(p, c, proof, nil) }

// CheckUntil is Check that gives up, with an error, once it has ended: it asks at every box, of several at the same
// time. nil: it goes on.
func CheckUntil(p *mip.Problem, c Claim, proof *Proof, ended func() bool) error {
	for _, i := range c.Limits {
		if i < 0 || i >= len(p.Limits) {
			return fmt.Errorf("the claim speaks of limit %d of %d", i, len(p.Limits))
		}
	}
	k := newChecker(p.Only(c.Limits), c)
	k.whole, k.ended = p, ended
	if len(c.Lo) != len(p.Vars) || len(c.Hi) != len(p.Vars) {
		return fmt.Errorf("the box has %d and %d sides for %d variables", len(c.Lo), len(c.Hi), len(p.Vars))
	}
	return k.node(proof, append(mip.Steps(nil), c.Lo...), append(mip.Steps(nil), c.Hi...))
}

// Keeps verifies that a point keeps its box and every limit at a use, each to
// a share of slack, and that no variable is where it may not be; the error
// names the limit by its index.
func Keeps(p *mip.Problem, s mip.Steps, use, slack float64) error {
	over := new(big.Rat).Add(big.NewRat(1, 1), rat(slack))
	x := make([]*big.Rat, len(s))
	for j := range p.Vars {
		v := &p.Vars[j]
		if v.Bars(s[j]) {
			return fmt.Errorf("variable %d may not be at %d steps", j, s[j])
		}
		x[j] = new(big.Rat).Mul(rat(v.Step), new(big.Rat).SetInt64(int64(s[j])))
		if x[j].Cmp(new(big.Rat).Sub(rat(v.Lo), rat(slack))) < 0 || x[j].Cmp(new(big.Rat).Add(rat(v.Hi), rat(slack))) > 0 {
			return fmt.Errorf("variable %d is outside its range", j)
		}
	}
	loose := p.Loose(s, s)
	for i, l := range p.Limits {
		if loose != nil && math.IsInf(loose[i], 1) {
			continue
		}
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
		if loose != nil {
			radius.Add(radius, rat(loose[i]))
		}
		if length.Cmp(radius.Mul(radius, radius)) > 0 {
			return fmt.Errorf("limit %d is exceeded", i)
		}
	}
	return nil
}

type checker struct {
	problem *mip.Problem // with the limits of the proof
	whole   *mip.Problem // with all of them
	ended   func() bool  // nil: never
	claim   Claim
	rows    int           // of all limits
	step    []*big.Rat    // of each variable
	weight  []*big.Rat    // of one step
	slope   []*big.Rat    // of one step
	radius  []*big.Rat    // of each limit at the claimed use
	spare   chan struct{} // has room for what may go on beside
}

func newChecker(p *mip.Problem, c Claim) *checker {
	k := &checker{problem: p, claim: c, spare: make(chan struct{}, runtime.GOMAXPROCS(0)-1)}
	for _, v := range p.Vars {
		step := rat(v.Step)
		k.step = append(k.step, step)
		k.weight = append(k.weight, new(big.Rat).Mul(rat(v.Weight), step))
		k.slope = append(k.slope, new(big.Rat).Mul(rat(v.Slope), step))
	}
	for _, l := range p.Limits {
		r := rat(l.Radius)
		if l.Shared {
			r.Mul(r, rat(c.Use))
		}
		k.radius = append(k.radius, r)
		k.rows += len(l.Rows)
	}
	return k
}

// node verifies the proof of a box, which is the node's to change.
func (k *checker) node(n *Proof, lo, hi mip.Steps) error {
	if k.ended != nil && k.ended() {
		return errors.New("there was no time for all of the proof")
	}
	if k.problem.Curved() && !k.problem.Afford(lo, hi, k.claim.Cost) || !k.problem.Narrow(lo, hi, k.claim.Use, 0) {
		return nil
	}
	if n == nil {
		return fmt.Errorf("a box is left open: %v to %v", lo, hi)
	}
	if n.Parts != nil {
		return k.parts(n.Parts, lo, hi)
	}
	if n.Turns != nil {
		return k.turns(n.Turns, lo, hi)
	}
	if n.Way > 0 {
		return k.walk(n.Way, lo, hi)
	}
	if n.Stretch != nil {
		return k.stretch(n.Stretch, lo, hi)
	}
	leaf := n.Below == nil && n.Above == nil
	if leaf && k.misses(lo, hi) {
		return nil
	}
	if n.Certificate != nil && (leaf || n.Lo != nil) {
		if err := k.sound(n.Certificate); err != nil {
			return err
		}
		off := k.off(n.Certificate, lo, hi)
		closed, narrowed := k.roughly(n, lo, hi, off)
		if closed {
			return nil
		}
		if !narrowed {
			w := k.weigh(n.Certificate, off)
			if w == nil {
				return fmt.Errorf("a certificate weighs a limit of which nothing is known in its box")
			}
			if w.closes(w.total(lo, hi)) {
				return nil
			}
			if err := w.narrows(n, lo, hi); err != nil {
				return err
			}
		}
		n.shrink(lo, hi)
		k.problem.Shut(lo, hi)
		if mip.Empty(lo, hi) || leaf && k.misses(lo, hi) {
			return nil
		}
	}
	if leaf {
		return fmt.Errorf("a box is neither closed nor split: %v to %v", lo, hi)
	}
	if n.Var < 0 || n.Var >= len(lo) {
		return fmt.Errorf("a box is split at variable %d of %d", n.Var, len(lo))
	}
	below, above := append(mip.Steps(nil), hi...), append(mip.Steps(nil), lo...)
	below[n.Var] = min(hi[n.Var], n.At)
	above[n.Var] = max(lo[n.Var], n.At+1)
	return k.both(func() error { return k.node(n.Below, append(mip.Steps(nil), lo...), below) },
		func() error { return k.node(n.Above, above, hi) })
}

// both does two things, at the same time where a processor is to spare; the error is the first one's, or else the
// second's.
func (k *checker) both(one, other func() error) error {
	select {
	case k.spare <- struct{}{}:
	default:
		if err := one(); err != nil {
			return err
		}
		return other()
	}
	first := make(chan error)
	go func() {
		err := one()
		<-k.spare
		first <- err
	}()
	second := other()
	if err := <-first; err != nil {
		return err
	}
	return second
}

// walk verifies a box that a walk along the chain closes.
func (k *checker) walk(way int, lo, hi mip.Steps) error {
	const piece = 1_000_000
	for work := piece; k.ended == nil || !k.ended(); work *= 2 {
		left := work
		switch w := k.problem.Walk(way, lo, hi, k.claim.Use, &left); {
		case w.None:
			return nil
		case left >= 0:
			return fmt.Errorf("a walk by way %d does not close a box", way)
		}
	}
	return errors.New("there was no time for all of the proof")
}

// A looseness is what rows may be off over a box: each limit is longer by, or what the variables pay.
type looseness struct {
	loose []float64 // of each limit; nil: none is longer
	fixed float64   // off the sum
	each  []float64 // off each variable's price; nil: nothing
}

// off is the looseness with which a dual certificate is weighed over a box.
func (k *checker) off(w *DualCertificate, lo, hi mip.Steps) (out looseness) {
	if w.Paid == nil {
		out.loose = k.problem.Loose(lo, hi)
		return out
	}
	out.fixed, out.each = k.problem.Paid(w.Pull, w.Paid, lo, hi)
	return out
}

// misses says whether a box is one point that is not what the claim denies: it
// costs enough, breaks a limit, or is turned down.
func (k *checker) misses(lo, hi mip.Steps) bool {
	cost, paid := new(big.Rat), map[int]bool{}
	for j := range lo {
		if lo[j] != hi[j] {
			return false
		}
		cost.Add(cost, new(big.Rat).Mul(k.weight[j], new(big.Rat).SetInt64(int64(max(lo[j], -lo[j])))))
		cost.Add(cost, new(big.Rat).Mul(k.slope[j], new(big.Rat).SetInt64(int64(lo[j]))))
		if b := k.problem.Vars[j].Block; k.problem.FixedCost != nil && lo[j] != 0 && !paid[b] {
			cost.Add(cost, rat(k.problem.FixedCost[b]))
			paid[b] = true
		}
	}
	if c := k.claim.Cost; !math.IsInf(c, 1) && cost.Cmp(rat(c)) >= 0 {
		return true
	}
	return Keeps(k.whole, lo, k.claim.Use, 0) != nil || k.claim.Refuses != nil && k.claim.Refuses(lo)
}

// shrink narrows a box to what a node leaves of it.
func (n *Proof) shrink(lo, hi mip.Steps) {
	for j := range n.Lo {
		lo[j], hi[j] = max(lo[j], n.Lo[j]), min(hi[j], n.Hi[j])
	}
}

// sound says whether a dual certificate is made of numbers that mean something here.
func (k *checker) sound(w *DualCertificate) error {
	if len(w.Pull) != k.rows {
		return fmt.Errorf("a dual certificate has %d numbers for %d rows", len(w.Pull), k.rows)
	}
	for _, v := range append([]float64{w.Price}, w.Pull...) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("a dual certificate holds %v", v)
		}
	}
	for n, a := range w.Paid {
		if a < 0 || a >= len(k.problem.Turns) || n > 0 && a <= w.Paid[n-1] {
			return fmt.Errorf("a dual certificate has turn %d paid for, of %d", a, len(k.problem.Turns))
		}
	}
	switch {
	case w.Price < 0:
		return fmt.Errorf("a dual certificate has the price %v", w.Price)
	case w.Price > 0 && math.IsInf(k.claim.Cost, 1):
		return fmt.Errorf("a dual certificate prices a cost that is not limited")
	}
	return nil
}
