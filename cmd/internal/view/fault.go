package view

import "leastmove/optimize/diagnose"

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
