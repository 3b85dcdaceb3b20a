package view

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// An Undo is what undoes one fault of a machine and nothing else, and how the couplings would then be.
type Undo struct {
	Stations []UndoneStation // those that move
	Worst    float64         // share of limit of the worst coupling then; 1 is at the limit
	Coupling int             // the worst
	NoRoom   bool            // by the train file the feet have no room for it
}

// An UndoneStation is what undoes a fault at some feet of its machine, mm.
type UndoneStation struct {
	Feet []int
	Move train.FootMove
}

// UndoOf is what undoes a suspected fault; nil where it is not one of the moves of one machine, or how it went is not
// known.
func (r *Verified) UndoOf(s *Suspect) *Undo {
	times := map[Cause]float64{NotMade: 1, OneFoot: 1, WrongWay: 2, MovedTwice: -1}[s.Cause]
	first := len(r.Verdict.Suspects) > 0 && &r.Verdict.Suspects[0] == s // by which Machines are worked out
	if s.Machine < 0 || times == 0 && !(first && (s.Cause == Elsewhere || s.Cause == Strained)) {
		return nil
	}
	moves, u := r.Train.Stay(), &Undo{}
	for n, feet := range r.Train.Machines[s.Machine].Stations() {
		if s.Feet != nil {
			feet = slices.DeleteFunc(slices.Clone(feet), func(f int) bool { return !slices.Contains(s.Feet, f) })
		}
		if len(feet) == 0 {
			continue
		}
		planned := r.Moves[s.Machine][feet[0]]
		by := train.FootMove{Up: times * planned.Up, Left: times * planned.Left, Axial: times * planned.Axial}
		if times == 0 {
			went := &r.Verdict.Machines[s.Machine].Stations[n]
			by.Up = toStep(went.PlannedUp-went.Up, r.Train.ShimsOf(s.Machine).Step)
			by.Left = toStep(went.PlannedLeft-went.Left, r.Train.Units.Resolution())
		}
		if s.Plane != Every && s.Plane != Vertical {
			by.Up = 0
		}
		if s.Plane != Every && s.Plane != Sideways {
			by.Left = 0
		}
		if s.Plane != Every && s.Plane != Along {
			by.Axial = 0
		}
		for _, f := range feet {
			moves[s.Machine][f] = by
		}
		if by != (train.FootMove{}) {
			u.Stations = append(u.Stations, UndoneStation{feet, by})
		}
	}
	if u.Stations == nil {
		return nil
	}
	state := r.Train.Check(moves)
	for i, conditions := range state.Couplings {
		if worst := worstOf(conditions); worst > u.Worst {
			u.Worst, u.Coupling = worst, i
		}
	}
	u.NoRoom = slices.ContainsFunc(optimize.Limits(r.Train, moves, &state, 1), func(l optimize.LimitRow) bool {
		// How even the feet stand is what the fault itself has changed.
		return l.Broken && l.Machine == s.Machine && !l.Held && l.Kind != train.LimitFlat
	})
	return u
}

// toStep is a move in mm in whole steps.
func toStep(mm, step float64) float64 { return step * math.Round(mm/step) }
