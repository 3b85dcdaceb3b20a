package view

import "math"

// FileRounding in mm is how far lengths and packs of a plan and of a train file may differ
// for the digits that are printed.
const FileRounding = 0.02

// A Difference is one between a plan and the train file that it is held against. Of the indices
// those count that the kind is about.
type Difference struct {
	Kind                               DifferenceKind
	Machine, Foot, Coupling, Condition int
	Is, Planned                        [2]float64 // mm: stations in the train file, and by the plan
}

// A DifferenceKind is what differs.
type DifferenceKind int

// The differences.
const (
	OtherFootX   DifferenceKind = iota // station of a foot
	OtherFootY                         // its position across the train
	NewMachine                         // the plan does not have the machine
	OtherPlane                         // station at which offsets are given
	OneHasFlex                         // one of the two has flex planes
	OtherFlex                          // stations of the flex planes
	NewCondition                       // the plan does not have the condition
	OtherGrowth                        // what a condition adds to the coupling at rest
	OtherEffect                        // the moves do not bring the coupling to where the plan says
)

func (r *Verified) differs(d Difference) { r.Differences = append(r.Differences, d) }

// apart says whether two lengths in mm differ; not where one is NaN.
func apart(a, b float64) bool { return math.Abs(a-b) > FileRounding }

// geometry says where the plan and the train file do not have the same train.
func (r *Verified) geometry(p *GivenPlan) {
	t := r.Train
	there := map[int]bool{}
	for n := range p.Machines {
		g := &p.Machines[n]
		there[g.Machine] = true
		for _, f := range g.Feet {
			for _, k := range f.Feet {
				foot := &t.Machines[g.Machine].Feet[k]
				d := Difference{Kind: OtherFootX, Machine: g.Machine, Foot: k}
				if apart(foot.X, f.X) {
					d.Is[0], d.Planned[0] = foot.X, f.X
					r.differs(d)
				}
				if apart(foot.Y, f.Y) {
					d.Kind, d.Is[0], d.Planned[0] = OtherFootY, foot.Y, f.Y
					r.differs(d)
				}
			}
		}
	}
	for i := range t.Machines {
		if !there[i] {
			r.differs(Difference{Kind: NewMachine, Machine: i})
		}
	}
	for i := range p.Couplings {
		r.planes(i, &p.Couplings[i])
		r.warmth(i)
	}
}

// planes says where a coupling has others than in the plan.
func (r *Verified) planes(i int, g *GivenCoupling) {
	c := &r.Train.Couplings[i]
	if apart(c.X, g.X) {
		r.differs(Difference{Kind: OtherPlane, Coupling: i, Is: [2]float64{c.X}, Planned: [2]float64{g.X}})
	}
	switch {
	case c.Spacer != (len(g.Flex) == 2):
		r.differs(Difference{Kind: OneHasFlex, Coupling: i})
	case c.Spacer && (apart(c.Flex[0], g.Flex[0]) || apart(c.Flex[1], g.Flex[1])):
		r.differs(Difference{Kind: OtherFlex, Coupling: i, Is: c.Flex, Planned: [2]float64(g.Flex)})
	}
}

// warmth says where growth or journal shift is not that of the plan: what a
// condition adds to the coupling at rest differs.
func (r *Verified) warmth(i int) {
	const most = 0.006 // mm and mrad: both sides are rounded, and geometry adds a little
	c := &r.Couplings[i]
	for k := range c.Conditions {
		s := &c.Conditions[k]
		if math.IsNaN(s.UsePlanned) {
			r.differs(Difference{Kind: NewCondition, Coupling: i, Condition: k})
			continue
		}
		var worst float64
		now := parts(s.Now.Misalignment, c.Now.Misalignment)
		for n, v := range parts(s.Planned.Misalignment, c.Planned.Misalignment) {
			worst = math.Max(worst, math.Abs(v-now[n]))
		}
		if worst > most {
			r.differs(Difference{Kind: OtherGrowth, Coupling: i, Condition: k})
		}
	}
}
