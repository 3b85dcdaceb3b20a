package view

import (
	"math"

	"leastmove/train"
)

// atOdds holds a plan's moves against what the plan says they do at the couplings, and lists the
// couplings where they do not. Where somebody changed moves in the file, the couplings still sit
// as the old ones left them: whoever made the new moves would be accused of what is right.
//
// What the moves do is worked out by the train of after them; it was found
// elsewhere, so true geometry, second order, differs a little. So do roundings.
// Where the train file has other feet or planes than the plan, only what these
// can hardly make is a fault, the rest one more difference.
func (r *Verified) atOdds() []int {
	const least, share, gross = 0.05, 0.03, 0.3 // mm and mrad; of what the moves do
	other := len(r.Differences) > 0
	var odds []int
	stay, gone := r.Train.Check(r.Train.Stay()), r.Train.Check(r.Moves)
	for i := range r.Couplings {
		c := &r.Couplings[i]
		does := parts(gone.Couplings[i][0].Misalignment, stay.Couplings[i][0].Misalignment)
		var off, size float64
		for n, says := range parts(c.Planned.Misalignment, c.Before.Misalignment) {
			if math.IsNaN(says) { // it does not say how the coupling was found
				continue
			}
			off = math.Max(off, math.Abs(says-does[n]))
			size = math.Max(size, math.Abs(does[n]))
		}
		switch {
		case off <= least+share*size:
		case other && off <= least+gross*size:
			r.differs(Difference{Kind: OtherEffect, Coupling: i})
		default:
			odds = append(odds, i)
		}
	}
	return odds
}

func parts(a, b train.Misalignment) [4]float64 {
	return [4]float64{
		a.V.Offset - b.V.Offset, a.V.Angle - b.V.Angle,
		a.H.Offset - b.H.Offset, a.H.Angle - b.H.Angle,
	}
}
