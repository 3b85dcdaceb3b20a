package optimize

import (
	"slices"

	"leastmove/train"
)

// SoftFoot is the gap under a foot, in mm, from which on it is a soft foot that
// must be mended before anything is read: 0.05 mm, 2 mil.
func SoftFoot(u train.Units) float64 {
	if u == train.Inches {
		return 2 * train.Mil
	}
	return 0.05
}

// Provisional says that the plan was made from readings that a soft foot may
// have falsified: it is to be made again from what is read once that is mended.
func (p *Plan) Provisional() bool {
	for _, s := range p.Soft {
		if s.Gap > SoftFoot(p.Train.Units)+1e-9 {
			return true
		}
	}
	return false
}

// SoftFootCorrected is the train once the gaps measured under its feet are filled, in whole
// shim steps, and what that takes. The machines stay where they are.
func SoftFootCorrected(t *train.Train) (*train.Train, []Soft) {
	var soft []Soft
	out := Apply(t, nil)
	for i := range out.Machines {
		feet := out.Machines[i].Feet
		if !slices.ContainsFunc(feet, func(f train.Foot) bool { return f.Soft != 0 }) {
			continue
		}
		out.Fill(i)
		for f := range feet {
			if feet[f].Soft != 0 {
				soft = append(soft, Soft{Machine: i, Foot: f, Gap: feet[f].Soft, Fill: feet[f].Filled})
			}
		}
	}
	return out, soft
}
