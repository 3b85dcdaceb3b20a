package view

import (
	"math"

	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// A Pose is how the shafts of a coupling sit relative to each other: offsets and the distance
// between shaft ends in mm, angles in mrad; NaN where it is not known.
type Pose = diagnose.Pose

// A GivenPlan is a plan as a file states it, in the terms of the train that it is held against.
// Lengths are in mm, angles in mrad; NaN where the file does not say.
type GivenPlan struct {
	Moves     train.Moves
	Machines  []GivenMachine  // those that the file names, in its order
	Couplings []GivenCoupling // one for each of the train's
}

// A GivenMachine is one machine of it.
type GivenMachine struct {
	Machine int       // of the train
	Pitch   float64   // mrad that it is off level after the moves, + lowers what lies further along
	Roll    float64   // mrad, likewise, + raises the left side
	Nozzles []float64 // mm, limit of each of the train's nozzles when the plan was made
	Feet    []GivenFoot
}

// A GivenFoot is what the file says of one foot, or of the two of a pair.
type GivenFoot struct {
	Feet                       []int            // of the train's machine
	X, Y                       float64          // mm, + toward the last machine and + left, from the machine's own zero
	Pack                       train.PackChange // Now and Then are NaN where the pack is not stated
	Bolt, Raise, Lower, Travel GivenLimit
}

// A GivenLimit is what the plan uses of a limit, and that limit, in mm and in size.
type GivenLimit struct{ Used, Limit float64 }

// A GivenCoupling is one coupling of it.
type GivenCoupling struct {
	X      float64            // mm, train station of the offsets
	Flex   []float64          // mm, train stations of its flex planes; none: it has none
	Half   train.Misalignment // 95 % half-widths of what was found, mm and mrad
	Rest   Pose               // planned, cold and at standstill
	States []GivenState       // one for each of the train's conditions
}

// A GivenState is a coupling in one condition.
type GivenState struct {
	Found, Planned       Pose
	UseFound, UsePlanned float64 // share of the limit that is used most; 1 is at the limit
	ByFound, ByPlanned   string  // that limit, as Governs names it; "": the file does not say
}

// UnknownState is that of which the file says nothing.
func UnknownState() GivenState {
	return GivenState{Found: unknownPose(), Planned: unknownPose(), UseFound: math.NaN(), UsePlanned: math.NaN()}
}

func unknownPose() Pose {
	t := train.Tilt{Offset: math.NaN(), Angle: math.NaN()}
	return Pose{Misalignment: train.Misalignment{V: t, H: t}, Gap: math.NaN()}
}
