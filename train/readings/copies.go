package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// copies are readings that are there twice to the last digit: one dial of a pass
// like another of the same pass, or a pass of several dials like another pass.
// Taken as repeats they would make the errors seem smaller than they are. One
// dial may well show the same in two passes.
func copies(dials []train.Dial) []train.ReadingCheck {
	var out []train.ReadingCheck
	for i := range dials {
		for k := range i {
			if dials[i].Set == dials[k].Set && alike(&dials[i], &dials[k]) {
				out = append(out, train.ReadingCheck{Kind: train.CheckCopy, Dial: i, Other: k, Angle: math.NaN()})
				break
			}
		}
	}
	passes := sets(dials)
	of := func(set int) []int {
		var out []int
		for i := range dials {
			if dials[i].Set == set {
				out = append(out, i)
			}
		}
		return out
	}
	for n, set := range passes {
		mine := of(set)
		for _, before := range passes[:n] {
			theirs := of(before)
			if len(mine) > 1 && slices.EqualFunc(mine, theirs, func(a, b int) bool { return alike(&dials[a], &dials[b]) }) {
				out = append(out, train.ReadingCheck{Kind: train.CheckCopy, Dial: mine[0], Other: theirs[0], Whole: true,
					Angle: math.NaN()})
				break
			}
		}
	}
	return out
}

// alike says whether two dials sat alike and showed the same to the last digit.
func alike(a, b *train.Dial) bool {
	if mountOf(a) != mountOf(b) {
		return false
	}
	if a.Kind == train.OffsetDial {
		return a.V == b.V && a.H == b.H
	}
	return slices.Equal(a.Angles, b.Angles) && slices.Equal(a.Values, b.Values)
}
