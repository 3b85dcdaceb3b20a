package certify

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"sync"

	"leastmove/optimize/mip"
)

// Parts close a box of a long chain by parts of it, each with a proof of its own.
//
// Limits between the parts are weighed into the cost, as those of a dual certificate are: with u their pulls and λ = 1
// every point of the box that keeps the limits costs at least
//
//	Σ_i (u_i·constants_i − |u_i| radius_i) + Σ_p cost_p(x)
//
// where cost_p is what mip.Problem.Part has the blocks of part p cost. So where that sum, with what no point of each
// part costs less than, comes to the claim's cost, the box holds nothing that costs less. This is Lagrangian
// relaxation, with whole steps kept within each part (compare Geoffrion, "Lagrangean relaxation for integer
// programming", Mathematical Programming Study 2, 1974).
type Parts struct {
	Cut   DualCertificate // pulls at the limits between the parts; its price is 1
	Ends  []int           // the block after the last one of each part, ascending
	Least []float64       // what no point of each part costs less than
	Proof []*Proof        // of that
}

// parts verifies a box that is closed by parts.
func (k *checker) parts(n *Parts, lo, hi mip.Steps) error {
	if err := k.sound(&n.Cut); err != nil {
		return err
	}
	p, blocks := k.problem, k.problem.Length()
	if n.Cut.Price != 1 || len(n.Ends) != len(n.Least) || len(n.Ends) != len(n.Proof) || len(n.Ends) == 0 ||
		n.Ends[len(n.Ends)-1] != blocks {
		return errors.New("a chain is not cut in parts")
	}
	off := k.off(&n.Cut, lo, hi)
	w := k.weigh(&n.Cut, off)
	if w == nil {
		return errors.New("a certificate weighs a limit of which nothing is known in its box")
	}
	sum, from, first := w.constant, 0, 0
	holds := make([]func() error, len(n.Ends))
	for i, to := range n.Ends {
		if to <= from || to > blocks || math.IsNaN(n.Least[i]) || math.IsInf(n.Least[i], 0) {
			return fmt.Errorf("part %d of a chain is none, or its cost is %v", i, n.Least[i])
		}
		part := p.Part(from, to, n.Cut.Pull, off.each)
		last := first + len(part.Vars)
		for j := range part.Vars {
			sum.Sub(sum, w.short(first+j, &part.Vars[j], lo[first+j], hi[first+j]))
		}
		sum.Add(sum, rat(n.Least[i]))
		c := Claim{Lo: lo[first:last], Hi: hi[first:last], Use: k.claim.Use, Cost: n.Least[i]}
		holds[i] = func() error { return CheckUntil(part, c, n.Proof[i], k.ended) }
		from, first = to, last
	}
	for i, err := range atOnce(holds) {
		if err != nil {
			return fmt.Errorf("part %d of a chain: %w", i, err)
		}
	}
	if sum.Sign() < 0 {
		f, _ := sum.Float64()
		return fmt.Errorf("what the parts of a chain cost is less than is claimed, by %v", -f)
	}
	return nil
}

// atOnce does several things at the same time, and gives what comes of each.
func atOnce(do []func() error) []error {
	out := make([]error, len(do))
	var all sync.WaitGroup
	for i := range do {
		all.Go(func() { out[i] = do[i]() })
	}
	all.Wait()
	return out
}

// short is how much more a variable of a part costs there than in the whole, at most over a range: the part's costs are
// rounded, and none is below 0 for each unit of |x|.
func (w *weighed) short(j int, v *mip.Var, lo, hi int) *big.Rat {
	most := new(big.Rat)
	far := func(n int, slope float64, is *big.Rat) {
		price := new(big.Rat).Add(rat(v.Weight), rat(slope))
		by := price.Sub(price.Mul(price, rat(v.Step)), is)
		if n > 0 && by.Sign() > 0 {
			if by.Mul(by, new(big.Rat).SetInt64(int64(n))); by.Cmp(most) > 0 {
				most = by
			}
		}
	}
	far(hi, v.Slope, w.up[j])
	far(-lo, -v.Slope, w.down[j])
	return most
}
