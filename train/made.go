package train

import (
	"math"
	"slices"
)

// Made is the train as far as it is known once the moves were made just as they were set:
// what lies under the feet, and the room that is left to them. Couplings are as they were:
// they are to be read again.
//
// With u the shims of a foot's own move, c what was cut off it and g what fills the gap
// under it, all in mm, its pack becomes pack + g + c + u; as much more of it as g + u may
// come out (Lower counts c already), and as much less may go in. The bolt stays where it
// is and the hole goes with the foot: in the hole the bolt goes the other way.
func (t *Train) Made(moves Moves) *Train {
	out := *t
	out.Machines = slices.Clone(t.Machines)
	state := t.Check(moves)
	for i := range out.Machines {
		m, now := &out.Machines[i], &state.Machines[i]
		m.Level.FoundPitch, m.Level.FoundRoll = now.Pitch, now.Roll
		m.Residual = 0
		m.Feet = slices.Clone(m.Feet)
		for k := range m.Feet {
			m.Feet[k].made(t.PackChange(i, k, moves[i][k].Up), now.Feet[k])
		}
		m.Nozzles = slices.Clone(m.Nozzles)
		for n := range m.Nozzles {
			// |a + b| ≤ |a| + |b|: whatever way the flange goes next, it ends within the
			// limit. That is the worst case, a flange that goes on as it went. One that goes
			// back has more room than this says; who knows that its pipe was not strained
			// before states the limit anew.
			m.Nozzles[n].Limit = math.Max(0, m.Nozzles[n].Limit-now.Nozzles[n])
		}
	}
	return &out
}

// made is a foot after its pack was changed and the machine carried it.
func (f *Foot) made(c PackChange, went FootState) {
	if c.By() != 0 {
		f.Pack = c.Then
		f.Pieces = nil // which ones is not known here
	}
	fill := c.Fill - f.Filled
	f.Lower += fill + c.Move // below 0 where the pack is less than must stay
	f.Raise = math.Max(0, math.Max(0, f.Raise-fill)-c.Move)
	f.Cut, f.Soft, f.Filled, f.Excess = 0, 0, 0, 0
	if !math.IsNaN(f.Hole) && !math.IsNaN(f.Bolt) {
		f.BoltAt[0] -= went.Axial
		f.BoltAt[1] -= went.Left
	}
	f.TravelLeft = math.Max(0, f.TravelLeft-went.Left)
	f.TravelRight = math.Max(0, f.TravelRight+went.Left)
}
