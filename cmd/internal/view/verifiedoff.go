package view

import (
	"math"
	"reflect"
	"slices"

	"leastmove/train"
)

// A Part is one of the numbers that say how a coupling sits.
type Part int

// The parts.
const (
	OffsetV Part = iota // mm, + high
	AngleV              // mrad, + slopes up
	OffsetH             // mm, + left
	AngleH              // mrad, + points left
	Ends                // mm between shaft ends, + wider
)

// An OffPlan is what a coupling is off the plan in one part, cold and at rest: in mm or mrad,
// with the sign of the part.
type OffPlan struct {
	Coupling int
	Part     Part
	Off      float64 // after less planned
	Half     float64 // 95 % half-width of what errors of reading and placing make of it
	More     bool    // it is off by more than that
}

// OffPlan is that of all couplings, where it is known.
func (r *Verified) OffPlan() []OffPlan {
	var out []OffPlan
	for i := range r.Couplings {
		c, half := &r.Couplings[i], r.Half(i)
		now, planned, errors := numbers(c.Now), numbers(c.Planned), numbers(half)
		for p := range now {
			o := OffPlan{Coupling: i, Part: Part(p), Off: now[p] - planned[p], Half: errors[p]}
			if o.More = math.Abs(o.Off) > o.Half; !math.IsNaN(o.Off) {
				out = append(out, o)
			}
		}
	}
	return out
}

// numbers are those of a pose, by part.
func numbers(p Pose) [5]float64 {
	return [5]float64{p.V.Offset, p.V.Angle, p.H.Offset, p.H.Angle, p.Gap}
}

// Half is the 95 % half-width of what errors of reading and placing make of a coupling's after
// less planned.
func (r *Verified) Half(coupling int) Pose {
	e := r.Verdict.Couplings[coupling]
	for _, n := range []*float64{&e.V.Offset, &e.V.Angle, &e.H.Offset, &e.H.Angle, &e.Gap} {
		*n *= train.Half95
	}
	return Pose(e)
}

// Stays says whether the plan moved nothing.
func (r *Verified) Stays() bool {
	for i := range r.Moves {
		if r.Moves.Moved(i) {
			return false
		}
	}
	return true
}

// PlannedAt is the move in mm that was planned where a fault is, of a station or a foot.
func (r *Verified) PlannedAt(f *Fault) train.FootMove { return r.Moves[f.Machine][f.Feet[0]] }

// WentOff is how far the station of a fault is off its plan in mm, up or to the left by the
// fault's plane; false where the fault is of no station, and of all but the first suspect, as
// how the machines went is worked out as if that were what went otherwise.
func (r *Verified) WentOff(f *Fault) (mm float64, known bool) {
	if all := r.Verdict.Suspects; len(all) == 0 || !reflect.DeepEqual(all[0].Fault, *f) {
		return math.NaN(), false
	}
	for _, s := range r.Verdict.Machines[f.Machine].Stations {
		switch {
		case len(f.Feet) == 0 || s.Feet[0] != f.Feet[0]:
		case f.Plane == Vertical:
			return s.Up - s.PlannedUp, true
		default:
			return s.Left - s.PlannedLeft, true
		}
	}
	return math.NaN(), false
}

// SidewaysPair says whether a side move of a station is suspected, which both of its feet make
// together.
func (r *Verified) SidewaysPair() bool {
	return slices.ContainsFunc(r.Verdict.Suspects, func(s Suspect) bool {
		return (s.Plane == Sideways || s.Plane == Every) && s.Feet != nil
	})
}
