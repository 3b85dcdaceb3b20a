package train

import "math"

// A Point is where the centre of a shaft was found at one station by a survey:
// all points of a train are measured in one frame.
type Point struct {
	Shaft int     // index into Machine.Shafts
	X     float64 // mm, in the machine's own stations
	V, H  float64 // mm in the survey's frame, + up and + left
	Error float64 // mm, 95 % half-width of V and of H; 0: not stated
}

// Apart is how far one shaft of a machine lies from another, in mm up and to the
// left, by their y and z and the roll in which the machine was found. known is
// false where the two have the same place, so that nobody stated theirs.
func (m *Machine) Apart(from, to int) (v, h float64, known bool) {
	dy, dz := m.Shafts[to].Y-m.Shafts[from].Y, m.Shafts[to].Z-m.Shafts[from].Z
	sin, cos := math.Sincos(m.Level.FoundRoll / 1000)
	return dz*cos + dy*sin, dy*cos - dz*sin, dy != 0 || dz != 0
}

// Pointed says whether the train has points of a survey.
func (t *Train) Pointed() bool {
	for i := range t.Machines {
		if len(t.Machines[i].Points) > 0 {
			return true
		}
	}
	return false
}
