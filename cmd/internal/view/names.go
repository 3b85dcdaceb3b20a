package view

import (
	"context"

	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// What the solver and the train hold as plain values is used as it is, by names that pages can use: these may import
// neither package.
type (
	Options          = optimize.Options
	Solved           = optimize.Plan
	Status           = optimize.Status
	Strategy         = optimize.Strategy
	LimitKind        = train.LimitKind
	Limit            = optimize.Limit
	Constraint       = optimize.Constraint
	ShadowPrice      = optimize.ShadowPrice
	ChanceConstraint = optimize.ChanceConstraint
	Probability      = optimize.Probability
	Source           = optimize.Source
	Measurement      = optimize.Measurement
	Pack             = optimize.Pack
	Member           = optimize.Member
	Relaxation       = optimize.Relaxation
	Edit             = optimize.Edit
	Misfit           = ways.Misfit
	Remedy           = ways.Remedy
)

// Statuses of a plan.
const (
	Planned    = optimize.Planned
	Within     = optimize.Within
	Impossible = optimize.Impossible
	Undecided  = optimize.Undecided
	Tried      = optimize.Tried
)

// Strategies: what a plan makes least.
const (
	LeastTotal     = optimize.LeastTotal
	Minimax        = optimize.Minimax
	FewestMachines = optimize.FewestMachines
	FewestFeet     = optimize.FewestFeet
	Closest        = optimize.Closest
	RaiseOnly      = optimize.RaiseOnly
)

// Of kinds of limits.
const (
	LimitFlat   = train.LimitFlat
	LimitGap    = train.LimitGap
	LimitSum    = train.LimitSum
	LimitTravel = train.LimitTravel
	LimitSteps  = train.LimitSteps
	SetByUp     = train.SetByUp
	SetByLeft   = train.SetByLeft

	UnstatedGrowth = train.UnstatedGrowth
	UnstatedAlong  = train.UnstatedAlong
	UnstatedRun    = train.UnstatedRun
	UnstatedGap    = train.UnstatedGap
)

// Kinds of numbers of a plan that can't be set.
const (
	OffStep    = ways.OffStep
	LeftApart  = ways.LeftApart
	NoRoll     = ways.NoRoll
	NoShift    = ways.NoShift
	Unmakeable = ways.Unmakeable
	TooLittle  = ways.TooLittle
)

// Sources of errors.
const (
	FromOffset  = optimize.FromOffset
	FromAngle   = optimize.FromAngle
	FromPlacing = optimize.FromPlacing
)

// Of the train.
type (
	Train        = train.Train
	Machine      = train.Machine
	Coupling     = train.Coupling
	Foot         = train.Foot
	Condition    = train.Condition
	Dial         = train.Dial
	End          = train.End
	Tilt         = train.Tilt
	Accuracy     = train.Accuracy
	Misalignment = train.Misalignment
	Reading      = train.Reading
	Transient    = train.Transient
	Warmth       = train.Warmth
	Use          = train.Use
	FootMove     = train.FootMove
	MachineState = train.MachineState
	PackChange   = train.PackChange
	Shift        = train.Shift
	Unstated     = train.Unstated
	UnstatedKind = train.UnstatedKind
)

// Measures of a coupling.
const (
	Flex1 = train.Flex1
	Flex2 = train.Flex2
	Gap   = train.Gap
)

// Coordinates of a motion.
const (
	Axial = train.Axial
	Left  = train.Left
	Up    = train.Up
	Roll  = train.Roll
	Pitch = train.Pitch
	Yaw   = train.Yaw
)

// Units of a train file.
const (
	Inches = train.Inches
)

// PartOfTime is a context that ends when a share of the time is up that a deadline leaves.
func PartOfTime(ctx context.Context, share float64) (context.Context, context.CancelFunc) {
	return optimize.PartOfTime(ctx, share)
}

// What may have gone wrong with the moves; see diagnose.
type (
	Fault   = diagnose.Fault
	Suspect = diagnose.Suspect
	Cause   = diagnose.Cause
	Plane   = diagnose.Plane
	Assumed = diagnose.Assumed
)

// The causes, planes and assumed errors of diagnose.
const (
	NotMade     = diagnose.NotMade
	OneFoot     = diagnose.OneFoot
	WrongWay    = diagnose.WrongWay
	Elsewhere   = diagnose.Elsewhere
	Strained    = diagnose.Strained
	SagTwice    = diagnose.SagTwice
	Mirrored    = diagnose.Mirrored
	Misread     = diagnose.Misread
	SidesTurned = diagnose.SidesTurned
	NoneMade    = diagnose.NoneMade
	MovedTwice  = diagnose.MovedTwice

	Every    = diagnose.Every
	Vertical = diagnose.Vertical
	Sideways = diagnose.Sideways
	Along    = diagnose.Along

	AssumedOffset  = diagnose.AssumedOffset
	AssumedAngle   = diagnose.AssumedAngle
	AssumedPlacing = diagnose.AssumedPlacing
)
