package train

import "math"

// A foot is base-bound where nothing more may come out from under it, bolt-bound where its hole's edge meets the bolt.

// HoleKnown says whether bolt and hole are stated. Where they are not, they limit nothing.
func (f *Foot) HoleKnown() bool { return !math.IsNaN(f.Bolt) && !math.IsNaN(f.Hole) }

// Play is how far in mm the bolt may sit from the hole's centre: half the
// difference of the diameters, less the clearance that must be left.
func (f *Foot) Play() float64 {
	if !f.HoleKnown() {
		return math.Inf(1)
	}
	return (f.Hole-f.Bolt)/2 - f.Free
}

// BoltOff is how far in mm the bolt sits from the hole's centre once the foot
// has moved: the hole goes with the foot, the bolt stays.
func (f *Foot) BoltOff(axial, left float64) float64 {
	return math.Hypot(f.BoltAt[0]-axial, f.BoltAt[1]-left)
}

// Room is how much further a foot can go, in mm, each way on its own.
type Room struct {
	Up, Down, Left, Right float64
}

// Room is what is left to the foot once it is higher, further left
// and further along the train by so much than it was found. A negative room is how far
// it is past its end.
func (f *Foot) Room(up, left, axial float64) Room {
	r := Room{
		Up:    f.Raise - up,
		Down:  f.Lower + up,
		Left:  f.TravelLeft - left,
		Right: f.TravelRight + left,
	}
	if !f.HoleKnown() {
		return r
	}
	// Along a line across the hole, the half chord at this axial position.
	play, along := f.Play(), f.BoltAt[0]-axial
	half := math.Sqrt(math.Max(0, play*play-along*along))
	side := f.BoltAt[1] - left // of the bolt in the hole; the foot moves left until the hole's right edge meets it
	if math.Abs(along) > play {
		half, side = play-f.BoltOff(axial, left), 0 // outside: how far it is past the edge
	}
	r.Left = math.Min(r.Left, half+side)
	r.Right = math.Min(r.Right, half-side)
	return r
}

// LeastRoom is the room in mm below which a foot counts as being at its end: half
// of what a dial in 0.01 mm shows.
const LeastRoom = 0.005

// BaseBound says that the foot can sink no further.
func (r Room) BaseBound() bool { return r.Down < LeastRoom }
