package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// What makes it striking that the sides of a dial may be swapped. Ours.
const (
	swappedLess = 3 // times smaller that the angle sideways would be
	sidewaysOff = 2 // times larger than the angle up and down that it is as read
)

// IfSwapped is the angle sideways in mrad, + points left, that the readings of a coupling would come to if 3 and 9 of
// one of its rims were swapped, where no other reading checks their sides and that is strikingly small: machines are
// seldom aligned far worse sideways than up and down. ok is false where it is not.
func IfSwapped(c *train.Coupling) (angle float64, ok bool) {
	s, ok := solve(c.Dials, c.X)
	if !ok || len(c.Dials) > mostSuspects {
		return 0, false
	}
	read := s.misalignment()
	if math.Abs(read.H.Angle) <= math.Max(sidewaysOff*math.Abs(read.V.Angle), limited(c)) {
		return 0, false
	}
	angle, ok = math.Inf(1), false
	for _, i := range Unchecked(c) {
		if c.Dials[i].Kind == train.FaceDial {
			continue // that turns the angle, and makes it no smaller
		}
		dials := slices.Clone(c.Dials)
		dials[i] = righted(&c.Dials[i], train.Mistake{Kind: train.MistakeSides, At: -1})
		swapped, solvable := solve(dials, c.X)
		if !solvable {
			continue
		}
		if h := swapped.misalignment().H.Angle; math.Abs(h) < math.Abs(angle) {
			angle, ok = h, math.Abs(h)*swappedLess < math.Abs(read.H.Angle)
		}
	}
	return angle, ok
}

// limited is the coupling's limit of the angle in mrad; 0 where it has none.
func limited(c *train.Coupling) float64 {
	if math.IsInf(c.Limit.Angle, 1) || math.IsNaN(c.Limit.Angle) {
		return 0
	}
	return c.Limit.Angle
}
