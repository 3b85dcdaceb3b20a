package optimize

import (
	"slices"

	"leastmove/train"
)

// This file has which variables and feet a limit is of.

// Together are the feet whose limits of a kind go together: those of one
// station at their bolts, those that one variable sets elsewhere; none for a
// limit that stands for itself.
func (k *Model) Together(l Limit) []int {
	if l.Machine < 0 || l.Foot < 0 {
		return nil
	}
	var want Act
	switch l.Kind {
	case train.LimitBolt:
		for _, s := range k.Train.Machines[l.Machine].Stations() {
			if slices.Contains(s, l.Foot) {
				return slices.DeleteFunc(slices.Clone(s), func(f int) bool {
					return !k.Train.Machines[l.Machine].Feet[f].HoleKnown()
				})
			}
		}
	case train.LimitLower, train.LimitRaise:
		want = ShimChange
	case train.LimitTravel:
		want = SideMove
	default:
		return nil
	}
	for v := k.First[l.Machine]; v < k.Last[l.Machine]; v++ {
		if k.Groups[v].Act == want && slices.Contains(k.Groups[v].Feet, l.Foot) {
			return k.Groups[v].Feet
		}
	}
	return nil
}

// Variable is the one whose range a limit bounds; -1: it bounds none.
func (k *Model) Variable(l Limit) int {
	for v, g := range k.Groups {
		if g.Machine != l.Machine {
			continue
		}
		if l.Kind == train.LimitShift && g.Act == AxialShift {
			return v
		}
		if g.Feet[0] == l.Foot {
			if (l.Kind == train.LimitLower || l.Kind == train.LimitRaise) && g.Act == ShimChange ||
				l.Kind == train.LimitTravel && g.Act == SideMove {
				return v
			}
		}
	}
	return -1
}

// Pack is the variable that sets a foot's pack.
func (k *Model) Pack(machine, foot int) int {
	for v := k.First[machine]; v < k.Last[machine]; v++ {
		if k.Groups[v].Act == ShimChange && slices.Contains(k.Groups[v].Feet, foot) {
			return v
		}
	}
	panic("optimize: a foot without a pack")
}

// Blocks are the blocks from..to-1 of the problem whose variables a limit hangs on: those of its machine, or of its
// coupling's machines and what these stand on; none: from is not below to.
func (k *Model) Blocks(l Limit) (from, to int) {
	from = len(k.Movable)
	note := func(v int) {
		b := k.Problem.Vars[v].Block
		from, to = min(from, b), max(to, b+1)
	}
	if l.Machine >= 0 {
		for v := k.First[l.Machine]; v < k.Last[l.Machine]; v++ {
			note(v)
		}
	}
	for i, label := range k.Labels {
		if l.Coupling < 0 || label.Coupling != l.Coupling {
			continue
		}
		for _, row := range k.Problem.Limits[i].Rows {
			for _, t := range row.Terms {
				note(t.Var)
			}
		}
	}
	return from, to
}
