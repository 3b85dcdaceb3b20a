package view

import (
	"math"

	"leastmove/optimize"
)

// A SoftFoot is a foot that does not bear, and what fills the gap under it.
type SoftFoot struct {
	Machine, Foot int
	Gap           float64 // mm, measured with the foot's own bolt loose
	Fill          float64 // mm, that goes under it, in whole shim steps; 0: nothing does
	Off           float64 // mm, soft foot there that the fills of the machine leave, in size; as found: the gap
	OverFlat      bool    // that is more than the soft foot which packs may leave
	TooSoft       bool    // the gap is too large to align on
}

// TooSoft is the gap in mm from which on a foot is too soft to align on.
func TooSoft(t *Train) float64 { return optimize.SoftFoot(t.Units) }

func softFeet(p *optimize.Plan) []SoftFoot {
	var out []SoftFoot
	for _, s := range p.Soft {
		off := math.Abs(p.Found.Machines[s.Machine].Feet[s.Foot].Soft)
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

// A WorkMachine is what soft foot the packs of a machine leave on purpose, in mm.
type WorkMachine struct {
	Left  []float64 // at each foot, + its pack is too thick; 0 where it is less than half of what a dial shows
	Most  float64   // the largest of them, in size
	First float64   // what a foot may be soft by before the moves: with what is left on purpose it ends within Stop
	Stop  float64   // what a foot may move by as its bolt is tightened before the crew stops
	Other bool      // that is more than what is a soft foot at any machine
}

// workMachine is machine m after the moves. Before them the crew stops at what is a soft foot at any machine, less
// what the packs will leave on purpose, and at no less than a step of a dial. After them it stops at what is a soft
// foot at any machine, and where the packs leave some on purpose at no less than that and two steps of a dial: it is
// read twice, before and after, a step off each time. Who passed the first check thus passes the second.
func workMachine(p *optimize.Plan, m int) WorkMachine {
	var out WorkMachine
	soft, step := optimize.SoftFoot(p.Train.Units), DialStep(p.Train.Units)
	for f := range p.Train.Machines[m].Feet {
		left := p.Planned.Machines[m].Feet[f].Soft
		if math.Abs(left) < step/2 {
			left = 0
		}
		out.Left = append(out.Left, left)
		out.Most = math.Max(out.Most, math.Abs(left))
		out.Stop = math.Max(out.Stop, math.Max(soft, math.Abs(left)+2*step))
	}
	out.First = math.Max(step, soft-out.Most)
	out.Other = out.Stop > soft*(1+Fair)
	return out
}
