package certify

import (
	"fmt"
	"math"

	"leastmove/optimize/mip"
)

// A Stretch closes a box of a long chain by a few neighbouring blocks by themselves, with the limits on them alone:
// where they have no point at the use, whatever it costs, the chain has none.
type Stretch struct {
	From, To int // the blocks From..To-1
	Proof    *Proof
}

// stretch verifies a box that a stretch of the chain closes.
func (k *checker) stretch(n *Stretch, lo, hi mip.Steps) error {
	blocks := k.problem.Length()
	if n.From < 0 || n.From >= n.To || n.To > blocks {
		return fmt.Errorf("blocks %d to %d are no stretch of a chain of %d", n.From, n.To, blocks)
	}
	first, last := k.problem.Blocks(n.From, n.To)
	c := Claim{Lo: lo[first:last], Hi: hi[first:last], Use: k.claim.Use, Cost: math.Inf(1)}
	if err := CheckUntil(k.problem.Part(n.From, n.To, make([]float64, k.rows), nil), c, n.Proof, k.ended); err != nil {
		return fmt.Errorf("blocks %d to %d of a chain: %w", n.From, n.To, err)
	}
	return nil
}
