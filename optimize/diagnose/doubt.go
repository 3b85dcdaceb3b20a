package diagnose

import (
	"slices"

	"leastmove/train"
)

// PackInDoubt says whether a fault that explains the readings is one of the pack under a foot. The pack that the
// train file states there is then right only if the foot went as planned.
func (v *Verdict) PackInDoubt(moves train.Moves, machine, foot int) bool {
	return slices.ContainsFunc(v.Suspects, func(s Suspect) bool {
		switch s.Cause {
		case NoneMade:
			return moves.Moved(machine)
		case NotMade, OneFoot, WrongWay, MovedTwice, Elsewhere, Strained:
			return s.Machine == machine && moves.Moved(machine) && (s.Plane == Vertical || s.Plane == Every) &&
				(s.Feet == nil || slices.Contains(s.Feet, foot))
		}
		return false // a reading, or side moves
	})
}

// BoltInDoubt says whether a fault that explains the readings is one of where a foot went in its hole, sideways or
// along the train. Where the train file says that its bolt sits is then right only if it was measured.
func (v *Verdict) BoltInDoubt(moves train.Moves, machine, foot int) bool {
	move := &moves[machine][foot]
	return slices.ContainsFunc(v.Suspects, func(s Suspect) bool {
		switch s.Cause {
		case NoneMade:
			return move.Left != 0 || move.Axial != 0
		case SidesTurned:
			return move.Left != 0
		case NotMade, WrongWay, MovedTwice, Elsewhere, Strained:
			return s.Machine == machine && moves.Moved(machine) && s.Plane != Vertical &&
				(s.Feet == nil || slices.Contains(s.Feet, foot))
		}
		return false // a reading, or a pack
	})
}
