package optimize

import (
	"math"

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
		for f := range out.Machines[i].Feet {
			foot := &out.Machines[i].Feet[f]
			if foot.Soft == 0 {
				continue
			}
			in := t.Fill(i, foot)
			soft = append(soft, Soft{Machine: i, Foot: f, Gap: foot.Soft, Fill: in})
			foot.Filled = in
			foot.Excess = in - foot.Soft
			foot.Pack += in
			foot.Lower += in
			foot.Raise = math.Max(0, foot.Raise-in)
		}
		capResidual(&out.Machines[i])
	}
	return out, soft
}

// capResidual has what is left of a machine's gaps count as soft foot as far as that
// may be at all: more asks for finer shims, not for other moves.
func capResidual(m *train.Machine) {
	kin := m.Kinematics()
	var worst float64
	for _, soft := range kin.Soft(m.WithExcess(make([]train.FootMove, len(m.Feet)))) {
		worst = math.Max(worst, math.Abs(soft))
	}
	for f := range m.Feet {
		if worst > m.Flat {
			m.Feet[f].Excess *= m.Flat / worst
		}
	}
}
