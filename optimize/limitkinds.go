package optimize

import "leastmove/train"

// A LimitKind is one kind of limit.
type LimitKind = train.LimitKind

const (
	LimitLower  = train.LimitLower
	LimitRaise  = train.LimitRaise
	LimitBolt   = train.LimitBolt
	LimitTravel = train.LimitTravel
	LimitFlat   = train.LimitFlat
	LimitPitch  = train.LimitPitch
	LimitRoll   = train.LimitRoll
	LimitNozzle = train.LimitNozzle
	LimitOffset = train.LimitOffset
	LimitAngle  = train.LimitAngle
	LimitFlex   = train.LimitFlex
	LimitGap    = train.LimitGap
	LimitHold   = train.LimitHold
	LimitSteps  = train.LimitSteps
	LimitStock  = train.LimitStock
	LimitLeast  = train.LimitLeast
)
