package view

import (
	"math"
	"slices"
)

// Packs says which shim packs the train file has under the feet that were moved.
type Packs int

const (
	PacksNew     Packs = iota // those that the plan leaves, or nothing says
	PacksOld                  // those from before the moves
	PacksNeither              // some are neither
)

// A DoubtedPack is one that the train file does not have as the plan leaves it.
type DoubtedPack struct {
	Machine, Foot int
	Is, Then      float64 // mm, in the file, and as the plan leaves it
}

// packs says whether the train file has the packs from before or after the moves.
func (r *Verified) packs(p *GivenPlan) {
	old, now := 0, 0
	for n := range p.Machines {
		g := &p.Machines[n]
		for _, f := range g.Feet {
			for _, k := range f.Feet {
				is := r.Train.Machines[g.Machine].Feet[k].Pack
				doubted := DoubtedPack{g.Machine, k, is, f.Pack.Then}
				switch {
				case !apart(f.Pack.Now, f.Pack.Then) || math.IsNaN(is):
				case !apart(is, f.Pack.Then):
					now++
				case !apart(is, f.Pack.Now):
					old++
					r.Doubted = append(r.Doubted, doubted)
				default:
					r.Doubted = append(r.Doubted, doubted)
				}
			}
		}
	}
	switch {
	case old > 0 && now == 0:
		r.Packs = PacksOld
	case len(r.Doubted) > 0:
		r.Packs = PacksNeither
	}
}

// PackInDoubt says whether what lies under a foot now has to be measured before anything is built on it: the
// train file has the pack of before the moves there, or a fault that explains the readings is one of this foot's
// pack.
func (r *Verified) PackInDoubt(machine, foot int) bool {
	if r.Packs == PacksOld && slices.ContainsFunc(r.Doubted, func(p DoubtedPack) bool {
		return p.Machine == machine &&
			p.Foot == foot
	}) {
		return true
	}
	return r.Verdict.PackInDoubt(r.Moves, machine, foot)
}

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
			asPlanned := math.Abs(foot.BoltOff(0, 0)-at[f].Bolt.Used) <= FileRounding // not where it is NaN
			if asPlanned && !(foot.BoltAt[1]*r.Moves[g.Machine][f].Left > 0) {
				of.Feet = append(of.Feet, f)
			}
		}
		if of.Feet != nil {
			r.DoubtedBolt = append(r.DoubtedBolt, of)
		}
	}
}
