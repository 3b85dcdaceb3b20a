package certify

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"leastmove/optimize/mip"
)

// Turns cap the size of turns in a box, by which rows there are less off (mip.Problem.Loose), and go on in it.
//
// With u the pulls of a dual certificate and no price, every point that keeps the limits has
// 0 ≥ Σ_i (u_i·rows_i(x) − |u_i| radius_i). Where that sum and Most − turn(x) come to more than 0 all over
// the box, no such point turns by Most or more.
type Turns struct {
	Caps []TurnCap // each holds with those before it
	Then *Proof    // of the box, with all of them
}

// A TurnCap says that no point of a box that keeps the limits turns farther than Most, either way.
type TurnCap struct {
	Turn     int     // of the problem
	Most     float64 // in the turn's unit
	Up, Down *DualCertificate
}

// turns verifies a box in which turns are capped.
func (k *checker) turns(n *Turns, lo, hi mip.Steps) error {
	p, c := *k.problem, *k
	p.TurnMost, c.problem = slices.Clone(p.TurnMost), &p
	for _, t := range n.Caps {
		if t.Turn < 0 || t.Turn >= len(p.Turns) || math.IsNaN(t.Most) || math.IsInf(t.Most, 0) {
			return fmt.Errorf("turn %d of %d is capped at %v", t.Turn, len(p.Turns), t.Most)
		}
		for i, w := range [2]*DualCertificate{t.Up, t.Down} {
			if w == nil || w.Price != 0 || w.Paid != nil {
				return fmt.Errorf("a cap of turn %d has no certificate, or one with a price", t.Turn)
			}
			if err := c.sound(w); err != nil {
				return err
			}
			if !c.caps(w, &t, float64(1-2*i), lo, hi) {
				return fmt.Errorf("turn %d is capped at %v without reason", t.Turn, t.Most)
			}
		}
		p.TurnMost[t.Turn] = math.Min(p.TurnMost[t.Turn], t.Most)
	}
	return c.node(n.Then, lo, hi)
}

// caps says whether a certificate leaves no point in a box that turns by a cap or more one way, which is weighed as a
// limit: -turn, of a length of -Most at most.
func (k *checker) caps(w *DualCertificate, t *TurnCap, way float64, lo, hi mip.Steps) bool {
	p, c := *k.problem, *k
	p.Limits = append(slices.Clip(p.Limits), mip.Limit{Rows: []mip.Row{p.Turns[t.Turn]}, Radius: -t.Most})
	c.problem, c.radius = &p, append(slices.Clip(k.radius), new(big.Rat).Neg(rat(t.Most)))
	with := &DualCertificate{Pull: append(slices.Clip(w.Pull), -way)}
	off := c.off(with, lo, hi)
	if closed, _ := c.roughly(&Proof{Certificate: with}, lo, hi, off); closed {
		return true
	}
	weighed := c.weigh(with, off)
	return weighed != nil && weighed.closes(weighed.total(lo, hi))
}
