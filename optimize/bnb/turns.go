package bnb

import (
	"math"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/optimize/socp"
)

// Where no cost bounds how far a train may move as a whole, the ranges of its variables say little of how far a machine
// may turn: over such a box curved rows may be off by a good part of a limit. All limits together say far more. Before
// it is made firm that there is no point, or none of a lower use, each turn is capped by what they leave of it.

const (
	// muchLoss is the loss of a bound on the use to limits being loose from which on turns are capped.
	muchLoss = 0.003
	// cappings is how often that is done for all turns: what is capped makes limits less loose.
	cappings = 3
	// lessTurn is the share of a turn's size above which a cap is not worth it.
	lessTurn = 0.99
)

// capped caps the turns over the whole box, by certificates, as long as less is known of it than is wanted. It returns
// where the proof of the box goes on, and false where nothing is left of the box.
func (t *tree) capped(root *certify.Proof, lo, hi mip.Steps, wanted func() bool) (*certify.Proof, bool) {
	if !t.Narrow(lo, hi, t.most(), slack) {
		return root, false
	}
	then := &certify.Proof{}
	root.Turns = &certify.Turns{Then: then}
	var s *spinner
	for n := 0; n < cappings && wanted(); n++ {
		if s == nil {
			s = t.spinner()
		}
		before, most := len(root.Turns.Caps), t.Turned(lo, hi)
		for a, by := range t.Loosening(nil, most) {
			if by == 0 || t.stopped() || t.solves+2 > t.opt.Solves {
				continue
			}
			found, none := s.most(t, a, lo, hi)
			if none != nil {
				then.Certificate = none
				return then, false
			}
			if found.Most < lessTurn*most[a] {
				root.Turns.Caps = append(root.Turns.Caps, found)
				t.TurnMost[a] = found.Most
			}
		}
		if len(root.Turns.Caps) == before {
			break
		}
	}
	return then, true
}

// loses says whether a certificate of what is claimed loses much over a box to limits being loose.
func (t *tree) loses(c *certify.DualCertificate, lo, hi mip.Steps) bool {
	w := t.weigh(c, lo, hi)
	if t.beside {
		return w.loss > muchLoss
	}
	return c.Price == 0 && !w.closes()
}

// A spinner looks for the largest size of turns by cone programs.
type spinner struct {
	*tree // of the limits at the use of a claim, with a turn for the cost
	r     *relaxer
}

func (t *tree) spinner() *spinner {
	p := *t.Problem
	p.Vars = append([]mip.Var(nil), p.Vars...)
	for j := range p.Vars {
		p.Vars[j].Weight = 0
	}
	p.FixedCost = nil
	l, goal := newGrid(&p), mip.Goal{Use: t.claim(t.best).Use}
	return &spinner{&tree{judge: &judge{grid: l, goal: goal}, best: math.Inf(1)}, newRelaxer(l, goal, t.stopped)}
}

// most caps a turn over a box; none is the certificate that nothing is left of the box, where that is so.
func (s *spinner) most(t *tree, a int, lo, hi mip.Steps) (found certify.TurnCap, none *certify.DualCertificate) {
	found.Turn = a
	for _, way := range [2]float64{1, -1} {
		for j := range s.Vars {
			s.Vars[j].Slope = 0
		}
		for _, term := range t.Turns[a].Terms {
			s.Vars[term.Var].Slope = -way * term.Coefficient
		}
		t.solves++
		out := s.r.solve(lo, hi, math.Inf(1))
		if out.proof == nil {
			found.Most = math.Inf(1)
			return found, nil
		}
		c := &certify.DualCertificate{Pull: out.proof.Pull}
		if out.status == socp.Infeasible {
			if found.Most = math.Inf(1); t.weigh(c, lo, hi).closes() {
				none = c
			}
			return found, none
		}
		most := way*t.Turns[a].Constant - s.weigh(out.proof, lo, hi).bound
		found.Most = math.Max(found.Most, most+rounding*(1+math.Abs(most)))
		if way > 0 {
			found.Up = c
		} else {
			found.Down = c
		}
	}
	return found, nil
}
