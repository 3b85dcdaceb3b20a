package view

import "leastmove/train"

// A Sum is the misalignment of one coupling in one condition, taken apart: in mm and mrad.
type Sum struct {
	Coupling, Condition int
	Found               Misalignment // as read
	Warmth              Misalignment // of growth and journal shift
	To, From            Misalignment // of the motions of its shafts
	All                 Misalignment // of all of these, to first order
	Gap                 float64      // mm between shaft ends, to first order
}

func sumsOf(p *Plan) []Sum {
	motions := make([]train.Motion, len(p.Train.Machines))
	for i := range p.Planned.Machines {
		motions[i] = p.Planned.Machines[i].Motion
	}
	var out []Sum
	for i := range p.Train.Couplings {
		for k := range p.Train.Conditions {
			sum := p.Train.Sum(i, k, motions)
			all, gap := p.Train.Linear(i, k, motions)
			out = append(out, Sum{i, k, sum.Found, sum.Warmth, sum.To, sum.From, all, gap})
		}
	}
	return out
}
