package optimize

import (
	"math"
	"slices"

	"leastmove/optimize/mip"
)

// flatter looks beside a plan for one that leaves less soft foot: a step more or less at one foot or station of a
// machine that is moved, or at two, as long as the total grows by no more than rounding and couplings end as close, to
// evenClose. It is a last step after the search, and bounded: it tries so many points at most.
func (m *Solver) flatter(steps mip.Steps) mip.Steps {
	const (
		evenClose = 0.005 // share of the limits
		rounds    = 20    // a pack changed each
		packs     = 40    // variables: pairs of them are tried
	)
	k := m.Model
	var vars []int
	moved := k.efforts(steps)
	for v, g := range k.Groups {
		if _, is := moved[k.Problem.Vars[v].Block]; is && g.Act == ShimChange {
			vars = append(vars, v)
		}
	}
	left := k.softLeft(steps)
	if left.worst < AlmostFlat || len(vars) > packs {
		return steps
	}
	state := m.Plan.Train.Check(k.Moves(steps))
	accept := m.accept(k, math.Min(m.Plan.Kept, state.Worst()+evenClose))
	most := k.cost(steps) + CheckTolerance
	for range rounds {
		best := mip.Steps(nil)
		for _, trial := range k.beside(steps, vars) {
			if soft := k.softLeft(trial); soft.less(left) && k.cost(trial) <= most && accept(trial) {
				best, left = trial, soft
			}
		}
		if best == nil {
			break
		}
		steps = best
	}
	return steps
}

// AlmostFlat is the soft foot in mm that no feeler finds.
const AlmostFlat = 0.001

// beside are the points with a step more or less at one of some variables, or at two.
func (k *Model) beside(s mip.Steps, vars []int) []mip.Steps {
	var out []mip.Steps
	for n, a := range vars {
		for _, da := range [...]int{-1, 1} {
			if !takes(&k.Problem.Vars[a], s[a]+da) {
				continue
			}
			one := slices.Clone(s)
			one[a] += da
			out = append(out, one)
			for _, b := range vars[n+1:] {
				for _, db := range [...]int{-1, 1} {
					if takes(&k.Problem.Vars[b], s[b]+db) {
						two := slices.Clone(one)
						two[b] += db
						out = append(out, two)
					}
				}
			}
		}
	}
	return out
}

// takes says whether a variable may be at so many steps.
func takes(v *mip.Var, n int) bool {
	x := float64(n) * v.Step
	return !v.Bars(n) && x >= v.Lo-CheckTolerance && x <= v.Hi+CheckTolerance
}

// cost is the total in mm of some steps, without fixed costs.
func (k *Model) cost(s mip.Steps) float64 {
	var sum float64
	for v, n := range s {
		sum += math.Abs(float64(n)) * k.Problem.Vars[v].Step * k.Problem.Vars[v].Weight
	}
	return sum
}

// softFoot is what packs leave of soft foot: the most at any foot, in mm, and the sum of its squares over all, in mm².
type softFoot struct{ worst, squares float64 }

// less says whether the crew would find less of it: a thousandth of a millimetre at the worst foot, or a hundredth at
// another.
func (a softFoot) less(b softFoot) bool {
	if math.Abs(a.worst-b.worst) > AlmostFlat {
		return a.worst < b.worst
	}
	return a.worst <= b.worst+1e-9 && a.squares < b.squares-1e-4
}

// softLeft is the soft foot that some steps leave.
func (k *Model) softLeft(s mip.Steps) softFoot {
	var out softFoot
	moves := k.Moves(s)
	for _, i := range k.Movable {
		for _, soft := range k.kinematics[i].Soft(k.Train.Machines[i].WithExcess(moves[i])) {
			out.worst = math.Max(out.worst, math.Abs(soft))
			out.squares += soft * soft
		}
	}
	return out
}
