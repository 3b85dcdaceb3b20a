package train

import (
	"math"
	"slices"
)

// coldPasses are enough for the second order to settle: each takes off nearly all
// of what was left.
const coldPasses = 6

// Cold is what every coupling is to show cold and at standstill, so that in the
// running condition it stands as wanted, by true geometry: what is wanted, less what
// growth and journal shift add until then. Gap is in mm, NaN where none is wanted.
func (t *Train) Cold() []Reading {
	with := *t
	with.Couplings = slices.Clone(t.Couplings)
	for i := range with.Couplings {
		c := &with.Couplings[i]
		c.Found, c.FoundGap, c.Taken = c.Wanted, c.WantedGap, Share{}
	}
	stay := t.Stay()
	for range coldPasses {
		state := with.Check(stay)
		for i := range with.Couplings {
			c, r := &with.Couplings[i], &state.Couplings[i][0]
			c.Found.V.Offset += c.Wanted.V.Offset - r.V.Offset
			c.Found.V.Angle += c.Wanted.V.Angle - r.V.Angle
			c.Found.H.Offset += c.Wanted.H.Offset - r.H.Offset
			c.Found.H.Angle += c.Wanted.H.Angle - r.H.Angle
			c.FoundGap += c.WantedGap - r.Gap
		}
	}
	out := make([]Reading, len(with.Couplings))
	for i := range out {
		out[i] = Reading{Misalignment: with.Couplings[i].Found, Gap: with.Couplings[i].FoundGap}
		if math.IsNaN(with.Couplings[i].WantedGap) {
			out[i].Gap = math.NaN()
		}
	}
	return out
}
