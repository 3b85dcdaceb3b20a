package optimize

import (
	"fmt"
	"math"

	"leastmove/train"
)

// Breaks lists, in words, every limit that the train breaks after the moves, couplings
// beyond a share of their limits, and moves that a crew cannot set. The state must be the
// true geometry of the moves.
func Breaks(t *train.Train, moves train.Moves, state *train.State, use float64) []string {
	var out []string
	for _, r := range Limits(t, moves, state, use) {
		if r.Broken && !(r.Held && r.Foot >= 0) { // the feet of a held machine are not asked about
			out = append(out, r.words(t, use))
		}
	}
	for i := range t.Machines {
		m, s := &t.Machines[i], &state.Machines[i]
		for _, turn := range s.Motion[train.Roll:] { // mrad
			if beyond(math.Abs(turn), Steepest) {
				out = append(out, fmt.Sprintf("%s, tilted or turned: %.6g mrad, beyond %d", m.Name, math.Abs(turn), Steepest))
			}
		}
		switch {
		case !m.Hold:
			out = append(out, unsettable(t, i, moves[i], s)...)
		case moves.Moved(i):
			out = append(out, m.Name+" is held and was moved")
		}
	}
	return out
}

// words say by how much a limit is broken, for whoever looks for the fault.
func (r *LimitRow) words(t *train.Train, use float64) string {
	if r.Coupling >= 0 {
		name, what := t.Couplings[r.Coupling].Name, r.What
		if r.Condition < 0 {
			return fmt.Sprintf("%s, %s: %.6g beyond %.6g", name, what, r.Value, r.Bound)
		}
		return fmt.Sprintf("%s, %s, %s: %.6g beyond %.6g", name, what, t.Conditions[r.Condition].Name, r.Share, use)
	}
	m := &t.Machines[r.Machine]
	name := m.Name
	if r.Foot >= 0 {
		name += " " + m.Feet[r.Foot].Name
	}
	return fmt.Sprintf("%s, %s: %.6g beyond %.6g", name, r.What, r.Value, r.Bound)
}

// unsettable lists, in words, which moves of machine i's feet cannot be set: off their
// steps, less than the least move, or to a side by more than a step away from where the
// rigid machine takes the foot.
func unsettable(t *train.Train, i int, moves []train.FootMove, state *train.MachineState) []string {
	var out []string
	m, dial := &t.Machines[i], t.Units.Resolution()
	over := func(value, limit float64, name, what string) {
		if beyond(value, limit) {
			out = append(out, fmt.Sprintf("%s, %s: %.6g beyond %.6g", name, what, value, limit))
		}
	}
	kin := m.Kinematics()
	for f, move := range moves {
		name := m.Name + " " + m.Feet[f].Name
		over(math.Abs(move.Left-kin.LeftAt(f).Of(state.Motion)), dial, name, "side move against the machine's own")
		for n, set := range [3][2]float64{{move.Up, t.ShimsOf(i).Step}, {move.Left, dial}, {move.Axial, dial}} {
			if least := t.Aim.Least(n == 0); set[0] != 0 && math.Abs(set[0]) < least-1e-9 {
				out = append(out, fmt.Sprintf("%s moves by %.6g, less than the least move of %.6g", name, set[0], least))
			}
			steps := set[0] / set[1]
			over(math.Abs(steps-math.Round(steps)), CheckTolerance, name, "move in whole steps")
		}
	}
	return out
}
