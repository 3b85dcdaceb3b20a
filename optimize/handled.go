package optimize

import (
	"math"

	"leastmove/train"
)

// Handled is how many shims are taken out and put in, all feet together. All being
// false, there may be more: the file does not say what lies under a foot that comes
// down, or what it says can't be made up to what is wanted; such a foot counts as
// one piece at least.
func (p *Plan) Handled() (pieces int, all bool) {
	if p.Moves == nil {
		return 0, true
	}
	known := map[[2]int]bool{}
	for _, pack := range p.Packs {
		pieces += len(pack.Out) + len(pack.In)
		known[[2]int{pack.Machine, pack.Foot}] = true
	}
	all = true
	for i := range p.Train.Machines {
		for n := range p.Train.Machines[i].Feet {
			at := [2]int{i, n}
			by := p.Train.PackChange(i, n, p.Moves[i][n].Up).By()
			switch {
			case math.Abs(by) < NoPack:
			case !known[at]:
				pieces, all = pieces+1, false
			case p.Train.Machines[i].Feet[n].Pieces == nil && by < 0:
				all = false
			}
		}
	}
	return pieces, all
}

// FeetMoved is how many feet the plan moves.
func (p *Plan) FeetMoved() int { return FeetMoved(p.Moves) }

// MachinesMoved is how many machines the moves move.
func MachinesMoved(moves train.Moves) int {
	n := 0
	for i := range moves {
		if moves.Moved(i) {
			n++
		}
	}
	return n
}

// FeetMoved is how many feet they move.
func FeetMoved(moves train.Moves) int {
	n := 0
	for _, feet := range moves {
		for _, f := range feet {
			if f != (train.FootMove{}) {
				n++
			}
		}
	}
	return n
}
