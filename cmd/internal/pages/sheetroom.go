package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/bolts"
	"leastmove/cmd/internal/words"
	"leastmove/optimize/staging"
)

// littleSteps is how many steps of a dial, or of shims, count as little room beside a
// move: a step too far and one for reading it.
const littleSteps = 2

// sideRoom is what is left to a foot beyond its side move where that is little, with
// what it then meets; "" where there is plenty. The move is that of the whole plan.
func (t *order) sideRoom(s *staging.Stage, f int) string {
	foot := &t.Train.Machines[s.Machine].Feet[f]
	move := s.Moves[f]
	_, room := t.plan.FootLimits(s.Machine, f)
	left, whole := math.Inf(1), math.Inf(1)
	meets := "to the bolt"
	hole := bolts.Hole{Bolt: foot.Bolt, Diameter: foot.Hole, At: foot.BoltAt}
	switch n := t.Moved(move.Left); {
	case n.Zero():
	case move.Left > 0:
		left = room.Left
	default:
		left = room.Right
	}
	if hole.Known() {
		whole = hole.Travel()
		if !t.Moved(move.Axial).Zero() {
			at := t.plan.Planned.Machines[s.Machine].Feet[f]
			left = math.Min(left, hole.Travel()-hole.Off(at.Axial, at.Left))
		}
	}
	travel := foot.TravelLeft
	if move.Left < 0 {
		travel = foot.TravelRight
	}
	if ends := travel - math.Abs(t.plan.Planned.Machines[s.Machine].Feet[f].Left); !math.IsInf(travel, 1) && ends <= left+words.Fair {
		meets, whole = "of its travel", travel
	}
	if words := t.little(left, whole, t.dialStep(), meets); words != "" {
		return ", then" + strings.TrimPrefix(words, ",")
	}
	return ""
}

// packRoom is what is left to a pack beyond its change where that is little.
func (t *order) packRoom(s *staging.Stage, f int) string {
	foot := &t.Train.Machines[s.Machine].Feet[f]
	_, room := t.plan.FootLimits(s.Machine, f)
	switch up := t.Moved(s.Moves[f].Up); {
	case up.Zero():
		return ""
	case s.Moves[f].Up > 0:
		return t.little(room.Up, foot.Raise, t.Train.Shims.Step, "to go")
	}
	return t.little(room.Down, foot.Lower, t.Train.Shims.Step, "to go")
}

// little says what is left in mm of a range where it is little; step is the least that
// can be set.
func (t *order) little(left, of, step float64, words string) string {
	if math.IsInf(left, 1) || left >= littleSteps*step && left >= (1-near)*of {
		return ""
	}
	n := t.Left(left)
	if n.Zero() {
		return ", no more"
	}
	return fmt.Sprintf(", %s %s", n, words)
}
