package optimize

import (
	"fmt"
	"math"

	"leastmove/train"
)

// CheckTolerance is the share of a limit by which a checked number may pass it: the
// rounding of the arithmetic, some thousand times less than any instrument
// shows.
const CheckTolerance = 1e-6

// aside is how far in mm the tilt of a machine may take a foot past the edge of
// its hole: an angle times an angle times a lever, a micrometre, which no hole
// is measured to.
const aside = 1e-3

// breaks lists, in words, every limit that the train breaks after the moves:
// couplings beyond a share of their limits in any condition, feet, levels,
// nozzles and packs beyond their own, and moves that a crew cannot set. The
// state must be the true geometry of the moves.
func breaks(t *train.Train, moves train.Moves, state *train.State, use float64) []string {
	var out []string
	over := func(value, limit float64, format string, args ...any) {
		if !(value <= limit+CheckTolerance*math.Max(math.Abs(limit), 1e-3)) {
			out = append(out, fmt.Sprintf(format+": %.6g beyond %.6g", append(args, value, limit)...))
		}
	}
	for i, conditions := range state.Couplings {
		for k := range conditions {
			for _, u := range conditions[k].Uses {
				over(u.Share, use, "%s, %s, %s", t.Couplings[i].Name, u.Kind, t.Conditions[k].Name)
			}
		}
	}
	for i := range t.Machines {
		m, s := &t.Machines[i], &state.Machines[i]
		for _, turn := range s.Motion[train.Roll:] {
			over(math.Abs(turn), Steepest, "%s, tilted or turned", m.Name)
		}
		over(math.Abs(s.Pitch), m.Level.Pitch, "%s, level along the train", m.Name)
		over(math.Abs(s.Roll), m.Level.Roll, "%s, level across the train", m.Name)
		for n, z := range m.Nozzles {
			over(s.Nozzles[n], z.Limit, "%s, nozzle %s", m.Name, z.Name)
		}
		if m.Hold {
			if moves.Moved(i) {
				out = append(out, m.Name+" is held and was moved")
			}
			continue
		}
		stance := m.Kinematics()
		for f := range m.Feet {
			foot, move := m.Feet[f], moves[i][f]
			b := FootOf(foot)
			name := m.Name + " " + foot.Name
			over(-move.Up, b.Lower, "%s, shims out", name)
			over(move.Up, b.Raise, "%s, shims in", name)
			over(move.Left, b.TravelLeft, "%s, to the left", name)
			over(-move.Left, b.TravelRight, "%s, to the right", name)
			over(b.Off(s.Feet[f].Axial, s.Feet[f].Left), Play(b)+aside, "%s, bolt in its hole", name)
			over(math.Abs(s.Feet[f].Soft), t.Shims.Flat, "%s, soft foot", name)
			over(math.Abs(move.Left-stance.LeftAt(f).Of(s.Motion)), Resolution(t.Units), "%s, side move against the machine's own", name)
			for _, set := range [3][2]float64{{move.Up, t.Shims.Step}, {move.Left, Resolution(t.Units)}, {move.Axial, Resolution(t.Units)}} {
				if least := t.Aim.LeastMove; set[0] != 0 && math.Abs(set[0]) < least-1e-9 {
					out = append(out, fmt.Sprintf("%s moves by %.6g, less than the least move of %.6g", name, set[0], least))
				}
				steps := set[0] / set[1]
				over(math.Abs(steps-math.Round(steps)), CheckTolerance, "%s, move in whole steps", name)
			}
		}
	}
	return out
}
