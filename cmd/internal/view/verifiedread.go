package view

import (
	"leastmove/train"
	"leastmove/train/readings"
)

// ReadAgain are the checks of what was read after the moves that failed: what else is said goes by readings of which
// one is wrong.
func (r *Verified) ReadAgain() []FailedCheck {
	var out []FailedCheck
	for i := range r.Train.Couplings {
		c := &r.Train.Couplings[i]
		if c.Fit == nil {
			continue
		}
		for _, k := range c.Fit.Checks {
			if !k.Kind.Disagrees() && k.Kind != train.CheckRange {
				continue
			}
			f := FailedCheck{Kind: k.Kind, Dial: k.Dial, Size: k.Size, Limit: k.Limit}
			f.Message, f.Hint = readings.CheckWords(r.Train, c, k)
			out = append(out, f)
		}
	}
	return out
}
