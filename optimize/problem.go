package optimize

import (
	"leastmove/optimize/mip"
	"leastmove/train"
)

// Problem is the train's plan as a mixed-integer problem: a variable for each shim
// change, side move and axial shift that its feet allow, machine by machine
// along the chain, and every limit as a linear form (mm, mrad). It serves who
// wants a bound, a proof or another solver's opinion. It is linear: what true
// geometry adds, which is of second order, is not in it, so a plan made by Make
// may differ from its optimum by that much. Soft feet are taken as filled, as Make
// takes them.
func Problem(t *train.Train) *mip.Problem {
	t, _ = SoftFootCorrected(t)
	return &Build(t, nil).Problem
}
