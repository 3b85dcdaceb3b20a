package view

import (
	"math"

	"leastmove/bolts"
)

// DoubtedBolts are feet of a machine whose bolts sit, by the train file, where the plan was to leave them in their
// holes, though a fault that explains the readings is that these feet went otherwise.
type DoubtedBolts struct {
	Machine int
	Feet    []int
}

// boltsDoubted goes through the feet that a suspected fault is about. A bolt that sits on the other side of its hole
// than the plan takes it was measured.
func (r *Verified) boltsDoubted(p *GivenPlan) {
	for n := range p.Machines {
		g := &p.Machines[n]
		of := DoubtedBolts{Machine: g.Machine}
		at := g.byFoot()
		for f := range r.Train.Machines[g.Machine].Feet {
			foot := &r.Train.Machines[g.Machine].Feet[f]
			if at[f] == nil || !r.Verdict.BoltInDoubt(r.Moves, g.Machine, f) || foot.BoltAt == [2]float64{} {
				continue
			}
			hole := bolts.Hole{Bolt: foot.Bolt, Diameter: foot.Hole, At: foot.BoltAt}
			asPlanned := math.Abs(hole.Off(0, 0)-at[f].Bolt.Used) <= FileRounding // not where it is NaN
			if asPlanned && !(foot.BoltAt[1]*r.Moves[g.Machine][f].Left > 0) {
				of.Feet = append(of.Feet, f)
			}
		}
		if of.Feet != nil {
			r.DoubtedBolt = append(r.DoubtedBolt, of)
		}
	}
}
