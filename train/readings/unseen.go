package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// Unseen are the dials of a coupling that are turned and of which a misread position would not show: whatever they say
// there, the fit takes it whole. So it is with a ring of three positions that no other dial measures too.
func Unseen(c *train.Coupling) []int {
	const off = 0.1 // mm
	var out []int
	silent := slices.Clone(c.Dials)
	for k := range silent {
		silent[k] = said45(&silent[k], 0)
	}
	for i := range silent {
		for n := range silent[i].Values {
			dials := slices.Clone(silent)
			dials[i].Values = slices.Clone(dials[i].Values)
			dials[i].Values[n] = off
			s, ok := solve(dials, c.X)
			if !ok {
				return nil // it was refused
			}
			worst := 0.0
			for k := range dials {
				for _, left := range reduced(&dials[k], c.X, s.state).Residual {
					worst = math.Max(worst, math.Abs(left))
				}
			}
			if worst < checkedShare*off {
				out = append(out, i)
				break
			}
		}
	}
	return out
}
