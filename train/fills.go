package train

import (
	"math"
	"math/bits"
)

// Fills are what is to go under the feet of machine i before anything else, in mm, whole shim steps. With gaps g and
// what goes in s, the packs leave soft foot S(s - g) (Kinematics.Soft), linear in both. At each foot s is the step
// nearest to g. Where what that leaves of several gaps adds up to more than the machine may have (Flat), s is sought
// at all feet together among the steps next under and next over each gap:
//
//	min max |S(s - g)|, Flat being as good as less; of those the fewest feet off the nearest step, then the least
//	soft foot, then the fewest shims
func (t *Train) Fills(i int) []float64 {
	m, step := &t.Machines[i], t.ShimsOf(i).Step
	in, gaps := make([]float64, len(m.Feet)), 0
	var between []int // feet whose gap is no whole step
	for f := range m.Feet {
		gap := m.Feet[f].Soft
		if in[f] = step * math.Round(gap/step); gap > 0 {
			gaps++
		}
		if math.Abs(in[f]-gap) > tinyFill && len(between) < mostTogether {
			between = append(between, f)
		}
	}
	if gaps < 2 {
		return in
	}
	kin := m.Kinematics()
	best := m.filled(&kin, in)
	if best.left <= m.Flat+tinyFill {
		return in
	}
	for others := 1; others < 1<<len(between); others++ {
		next := make([]float64, len(in))
		copy(next, in)
		for k, f := range between {
			if others>>k&1 == 1 {
				next[f] = step * (math.Floor(m.Feet[f].Soft/step) + math.Ceil(m.Feet[f].Soft/step) - math.Round(in[f]/step))
			}
		}
		fill := m.filled(&kin, next)
		if fill.others = bits.OnesCount(uint(others)); fill.better(best, m.Flat) {
			best = fill
		}
	}
	return best.in
}

// tinyFill in mm is rounding of the arithmetic. At more soft feet of one machine than mostTogether, the rest get the
// nearest step: 4,096 ways are tried in some milliseconds.
const (
	tinyFill     = 1e-9
	mostTogether = 12
)

// A filling is one way to fill the gaps under a machine's feet.
type filling struct {
	in     []float64 // mm, at each foot
	left   float64   // mm, soft foot that it leaves at most, in size
	shims  float64   // mm, all that goes in
	others int       // feet at which it is not the nearest step
}

// filled is what is to be known of a way to fill the gaps.
func (m *Machine) filled(kin *Kinematics, in []float64) filling {
	out, over := filling{in: in}, make([]FootMove, len(in))
	for f := range in {
		over[f].Up = in[f] - m.Feet[f].Soft
		out.shims += in[f]
	}
	out.left = worstOf(kin.Soft(over))
	return out
}

// better says that a way to fill gaps comes before another, where flat mm of soft foot may be left.
func (a filling) better(b filling, flat float64) bool {
	for _, d := range [...]float64{math.Max(a.left, flat) - math.Max(b.left, flat), float64(a.others - b.others),
		a.left - b.left, a.shims - b.shims} {
		if math.Abs(d) > tinyFill {
			return d < 0
		}
	}
	return false
}

// worstOf is the largest of some soft feet in mm, in size.
func worstOf(soft []float64) float64 {
	most := 0.0
	for _, mm := range soft {
		most = math.Max(most, math.Abs(mm))
	}
	return most
}

// Fill has what fills the gaps under the feet of machine i in their packs. What that leaves of soft foot its packs may
// have, though it is more than Flat: it asks for finer shims, not for other moves.
func (t *Train) Fill(i int) {
	m := &t.Machines[i]
	for f, in := range t.Fills(i) {
		foot := &m.Feet[f]
		if foot.Soft == 0 {
			continue
		}
		foot.Filled, foot.Excess = in, in-foot.Soft
		foot.Pack += in
		foot.Lower += in
		foot.Raise = math.Max(0, foot.Raise-in)
	}
	kin := m.Kinematics()
	m.Residual = worstOf(kin.Soft(m.WithExcess(make([]FootMove, len(m.Feet)))))
}

// MostSoft is the soft foot in mm that the machine's packs may leave at most.
func (m *Machine) MostSoft() float64 { return math.Max(m.Flat, m.Residual) }
