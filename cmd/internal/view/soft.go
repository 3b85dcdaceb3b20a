package view

import (
	"math"

	"leastmove/optimize"
)

// A SoftFoot is a foot that does not bear, and what fills the gap under it.
type SoftFoot struct {
	Machine, Foot int
	Gap           float64 // mm, measured with the foot's own bolt loose
	Fill          float64 // mm, that goes under it, in whole shim steps; 0: less than a shim fills
	Off           float64 // mm, by how much the fill misses the gap, never below 0
	OverFlat      bool    // that is more than the soft foot which packs may leave
	TooSoft       bool    // the gap is too large to align on
}

// TooSoft is the gap in mm from which on a foot is too soft to align on.
func TooSoft(t *Train) float64 { return optimize.SoftFoot(t.Units) }

func softFeet(p *optimize.Plan) []SoftFoot {
	var out []SoftFoot
	for _, s := range p.Soft {
		off := math.Abs(s.Fill - s.Gap)
		out = append(out, SoftFoot{
			Machine: s.Machine, Foot: s.Foot, Gap: s.Gap, Fill: s.Fill, Off: off,
			OverFlat: off > p.Train.Machines[s.Machine].Flat*(1+Fair), TooSoft: s.Gap > TooSoft(p.Train)*(1+Fair),
		})
	}
	return out
}

// softFound are the gaps measured under a train's feet, where nothing is planned; nothing fills them.
func softFound(t *Train) []SoftFoot {
	var out []SoftFoot
	for i := range t.Machines {
		for f := range t.Machines[i].Feet {
			if gap := t.Machines[i].Feet[f].Soft; gap > 0 {
				out = append(out, SoftFoot{Machine: i, Foot: f, Gap: gap, Off: gap, TooSoft: gap > TooSoft(t)*(1+Fair)})
			}
		}
	}
	return out
}
