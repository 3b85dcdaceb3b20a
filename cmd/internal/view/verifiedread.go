package view

import "leastmove/train"

// ReadAgain are the checks of what was read after the moves that failed: what else is said goes by readings of which
// one is wrong.
func (r *Verified) ReadAgain() []FailedCheck {
	var out []FailedCheck
	for i := range r.Train.Couplings {
		c := &r.Train.Couplings[i]
		if c.Fit == nil {
			continue
		}
		for _, f := range failed(r.Train, c) {
			if f.Kind.Disagrees() || f.Kind == train.CheckRange {
				out = append(out, f)
			}
		}
	}
	return out
}
