package verify

import (
	"slices"

	"leastmove/optimize/diagnose"
)

// PackInDoubt says whether what lies under a foot now has to be measured before anything is built on it: the
// train file has the pack of before the moves there, or a fault that explains the readings is one of this foot's
// pack. The pack that the file states is then right only if the foot went as planned.
func (r *Result) PackInDoubt(machine, foot int) bool {
	if r.Packs == PacksOld && slices.ContainsFunc(r.Doubted, func(p Pack) bool { return p.Machine == machine && p.Foot == foot }) {
		return true
	}
	return slices.ContainsFunc(r.Verdict.Suspects, func(s diagnose.Suspect) bool {
		switch s.Cause {
		case diagnose.NoneMade:
			return r.Moves.Moved(machine)
		case diagnose.NotMade, diagnose.OneFoot, diagnose.WrongWay, diagnose.Elsewhere, diagnose.Strained:
			return s.Machine == machine && r.Moves.Moved(machine) && (s.Plane == diagnose.Vertical || s.Plane == diagnose.Every) &&
				(s.Feet == nil || slices.Contains(s.Feet, foot))
		}
		return false // a reading, or side moves
	})
}
