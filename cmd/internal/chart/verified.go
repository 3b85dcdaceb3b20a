package chart

import "leastmove/cmd/internal/view"

// VerifiedTrain draws the train before and after the moves as it was read, from
// the right side and from above; nil where the plan does not say how the couplings
// were when running.
func VerifiedTrain(f *view.Figures) []Drawing {
	if f.Course.Before == nil {
		return nil
	}
	return append(Elevation(f), Plan(f)...)
}
