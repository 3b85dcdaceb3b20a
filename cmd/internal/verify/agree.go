package verify

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/train"
)

// agree holds a plan's moves against what the plan says they do at the couplings.
// Where somebody changed moves in the file, the couplings still stand as the old
// ones left them: whoever made the new moves would be accused of what is right.
//
// What the moves do is worked out by the train of after them; it was found
// elsewhere, so true geometry, second order, differs a little. So do roundings.
// Where the train file has other feet or planes than the plan, only what these
// can hardly make is a fault, the rest one more difference.
func (r *Result) agree(couplings []*planjson.Coupling) planjson.Report {
	const least, share, gross = 0.05, 0.03, 0.3 // mm and mrad; of what the moves do
	other := len(r.Differences) > 0
	var faults planjson.Report
	stay, gone := r.Train.Check(r.Train.Stay()), r.Train.Check(r.Moves)
	for i, given := range couplings {
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
		name := r.Train.Couplings[i].Name
		switch {
		case off <= least+share*size:
		case other && off <= least+gross*size:
			r.Differences = append(r.Differences, fmt.Sprintf("%s: with the feet and planes of the train file the moves of the plan do not bring it to where the plan says", name))
		default:
			faults = append(faults, given.Place.Fault(
				fmt.Sprintf("the moves of the plan do not bring coupling %q to where the plan says: one or the other was changed by hand, or the train is another", name),
				"have the plan that was carried out written anew, with the train file that it was made for: leastmove plan BEFORE.toml --plan PLAN.json --format json -o FULL.json"))
		}
	}
	return faults
}

func parts(a, b train.Misalignment) [4]float64 {
	return [4]float64{
		a.V.Offset - b.V.Offset, a.V.Angle - b.V.Angle,
		a.H.Offset - b.H.Offset, a.H.Angle - b.H.Angle,
	}
}
