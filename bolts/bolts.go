// Package bolts says what a machine's foot can do: how far the bolt lets it
// slide in its hole, how far the pack of shims under it lets it rise and sink,
// and what holes are drilled for a bolt where nobody measured them.
//
// Lengths are in mm. A foot's own directions are those of the train: up, left
// (looking from the first machine to the last) and axial (along the train). A
// limit that is not stated is +Inf.
//
// A foot that can sink no further is base-bound, one whose hole's edge meets
// the bolt is bolt-bound.
package bolts

import "math"

// A Hole is the bolt of a foot standing in a wider hole. Where Bolt or
// Diameter is NaN nothing is known and nothing is limited.
type Hole struct {
	Bolt     float64    // mm, diameter
	Diameter float64    // mm
	Free     float64    // mm, clearance between bolt and hole that must be left
	At       [2]float64 // mm, the bolt from the hole's centre before the foot moves: axial, left
}

// Travel is how far in mm the bolt may stand from the hole's centre: half the
// difference of the diameters, less the clearance that must be left.
func (h Hole) Travel() float64 {
	if !h.Known() {
		return math.Inf(1)
	}
	return (h.Diameter-h.Bolt)/2 - h.Free
}

// Known says whether bolt and hole are stated.
func (h Hole) Known() bool { return !math.IsNaN(h.Bolt) && !math.IsNaN(h.Diameter) }

// Off is how far in mm the bolt stands from the hole's centre once the foot
// has moved: the hole goes with the foot, the bolt stays.
func (h Hole) Off(axial, left float64) float64 {
	return math.Hypot(h.At[0]-axial, h.At[1]-left)
}

// A Foot is all that limits one foot.
type Foot struct {
	Hole
	Lower                   float64 // mm, most that may come out of the pack; negative: at least so much must go in
	Raise                   float64 // mm, most that may be added
	TravelLeft, TravelRight float64 // mm, most that it may move to each side
}

// Room is how much further a foot can go, in mm, each way on its own.
type Room struct {
	Up, Down, Left, Right float64
}

// Room is what is left to the foot once it stands up higher, left to the left
// and axial along the train of where it was found. A negative room is how far
// it is past its end.
func (f Foot) Room(up, left, axial float64) Room {
	r := Room{
		Up:    f.Raise - up,
		Down:  f.Lower + up,
		Left:  f.TravelLeft - left,
		Right: f.TravelRight + left,
	}
	if f.Known() {
		// Along a line across the hole, the half chord at this axial position.
		along := f.At[0] - axial
		half := math.Sqrt(math.Max(0, f.Travel()*f.Travel()-along*along))
		if math.Abs(along) > f.Travel() {
			half = f.Travel() - f.Off(axial, left) // outside: how far it is past the edge
			r.Left, r.Right = math.Min(r.Left, half), math.Min(r.Right, half)
			return r
		}
		side := f.At[1] - left // of the bolt in the hole; the foot moves left until the hole's right edge meets it
		r.Left = math.Min(r.Left, half+side)
		r.Right = math.Min(r.Right, half-side)
	}
	return r
}

// LeastRoom is the room in mm below which a foot counts as being at its end: half
// of what a dial in 0.01 mm shows.
const LeastRoom = 0.005

// BaseBound says that the foot can sink no further.
func (r Room) BaseBound() bool { return r.Down < LeastRoom }
