package train

import "math"

// A LimitKind is one kind of limit of a train file.
type LimitKind string

const (
	LimitLower  LimitKind = "lower"     // mm out of a shim pack
	LimitRaise  LimitKind = "raise"     // mm into a shim pack
	LimitBolt   LimitKind = "bolt"      // mm of the bolt off the hole's centre
	LimitTravel LimitKind = "travel"    // mm to a side
	LimitFlat   LimitKind = "flat"      // mm of soft foot that packs leave
	LimitPitch  LimitKind = "pitch"     // mrad off level along the train
	LimitRoll   LimitKind = "roll"      // mrad off level across it
	LimitNozzle LimitKind = "nozzle"    // mm of displacement
	LimitShift  LimitKind = "shift"     // mm of a machine along the train, where no hole bounds it
	LimitOffset LimitKind = "offset"    // mm, at a coupling
	LimitAngle  LimitKind = "angle"     // mrad, at a coupling
	LimitFlex   LimitKind = "flex"      // mrad, at a spacer's flex planes
	LimitGap    LimitKind = "gap"       // mm of the distance between shaft ends
	LimitSum    LimitKind = "sum"       // ratio, what a coupling uses of its limits, added up
	LimitWarm   LimitKind = "transient" // ratio, the worst share of a coupling's limits in warm-up
	LimitHold   LimitKind = "hold"      // a machine that may not be moved
	LimitSteps  LimitKind = "steps"     // the whole steps of shims and dials
	LimitStock  LimitKind = "stock"     // what packs can be made of
	LimitLeast  LimitKind = "least"     // mm, the least move of a foot that moves
)

// A LimitSite is what a limit is stated for, or applies to.
type LimitSite int

const (
	OfTrain LimitSite = iota
	OfMachine
	OfFoot
	OfNozzle
	OfCoupling // in one condition
)

// A LimitUnit is the unit of a limit's numbers, with the way they are rounded.
type LimitUnit int

const (
	UnitNone   LimitUnit = iota // a rule, without a number that moves change
	UnitShim                    // mm, to the steps of shims
	UnitOffset                  // mm, as fine as an offset at a coupling
	UnitLength                  // mm, as a length of the machine
	UnitAngle                   // mrad
	UnitShare                   // ratio
	UnitUse                     // ratio, of a coupling's limits
)

// A LimitSetting is the move of a foot that a limit bounds by itself.
type LimitSetting int

const (
	SetByNone LimitSetting = iota // it bounds no move by itself, but what comes of several
	SetByUp                       // shims in or out
	SetByLeft                     // a move to a side
)

// A LimitInfo is what is known of one kind of limit.
type LimitInfo struct {
	Kind  LimitKind
	At    LimitSite    // what it applies to
	KeyOf LimitSite    // whose table of the train file states it
	Key   string       // of the train file, within that table
	Unit  LimitUnit    // of value and bound
	SetBy LimitSetting // the move of a foot that it bounds
	Tilt  float64      // mm, by which a checked value may pass the bound; a bound of less counts as so much

	// Fields are those of the train that state it, in mm or mrad, +Inf where they do not: to the left and to the right
	// for a move to a side, one for all else. Nil where no number does.
	Fields func(t *Train, at LimitPlace) []*float64
	bounds func(t *Train, at LimitPlace) float64 // what it comes to, where that is not the field itself; nil: it is
}

// Bounds are what the checked values are held to, in mm or mrad, one for each of Fields: of a coupling's limit as much
// as the condition may use. +Inf: it is not stated; nil: a rule without a number.
func (k *LimitInfo) Bounds(t *Train, at LimitPlace) []float64 {
	if k.bounds != nil {
		return []float64{k.bounds(t, at)}
	}
	if k.Fields == nil {
		return nil
	}
	var out []float64
	for _, x := range k.Fields(t, at) {
		bound := *x
		if k.At == OfCoupling {
			bound *= t.Conditions[at.Condition].Use
		}
		out = append(out, bound)
	}
	return out
}

// A LimitPlace is where a limit applies. Indices that do not apply are -1.
type LimitPlace struct{ Machine, Foot, Nozzle, Coupling, Condition int }

// BoltTilt is how far in mm the tilt of a machine may take a foot past the edge of its
// hole: an angle times an angle times a lever, a micrometre, which no hole is measured to.
const BoltTilt = 1e-3

// limitKinds has every kind once.
var limitKinds = [...]LimitInfo{
	{Kind: LimitOffset, At: OfCoupling, KeyOf: OfCoupling, Key: "limit.offset", Unit: UnitOffset,
		Fields: ofCoupling(Offset)},
	{Kind: LimitAngle, At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle,
		Fields: ofCoupling(Angle)},
	{Kind: LimitFlex, At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle,
		Fields: ofCoupling(Flex1)},
	{Kind: LimitGap, At: OfCoupling, KeyOf: OfCoupling, Key: "limit.gap", Unit: UnitLength,
		Fields: ofCoupling(Gap)},
	{Kind: LimitSum, At: OfCoupling, KeyOf: OfCoupling, Key: "limit.combined", Unit: UnitShare,
		bounds: func(t *Train, at LimitPlace) float64 {
			if !t.Couplings[at.Coupling].Limit.Combined {
				return math.Inf(1)
			}
			return 1
		}},
	{Kind: LimitWarm, At: OfCoupling, KeyOf: OfTrain, Key: "aim.transient", Unit: UnitUse,
		bounds: func(t *Train, _ LimitPlace) float64 {
			if t.Between == nil {
				return math.Inf(1)
			}
			return t.Aim.Transient
		}},
	{Kind: LimitPitch, At: OfMachine, KeyOf: OfMachine, Key: "level.pitch", Unit: UnitAngle,
		Fields: ofMachine(func(m *Machine) *float64 { return &m.Level.Pitch })},
	{Kind: LimitRoll, At: OfMachine, KeyOf: OfMachine, Key: "level.roll", Unit: UnitAngle,
		Fields: ofMachine(func(m *Machine) *float64 { return &m.Level.Roll })},
	{Kind: LimitNozzle, At: OfNozzle, KeyOf: OfNozzle, Key: "limit", Unit: UnitOffset,
		Fields: func(t *Train, at LimitPlace) []*float64 {
			return []*float64{&t.Machines[at.Machine].Nozzles[at.Nozzle].Limit}
		}},
	{Kind: LimitShift, At: OfMachine, KeyOf: OfTrain, Key: "relief.axial_most", Unit: UnitShim,
		Fields: func(t *Train, _ LimitPlace) []*float64 { return []*float64{&t.Relief.AxialMost} },
		bounds: func(t *Train, at LimitPlace) float64 { return t.ShiftMost(&t.Machines[at.Machine]) }},
	{Kind: LimitFlat, At: OfFoot, KeyOf: OfMachine, Key: "flat", Unit: UnitOffset,
		Fields: ofMachine(func(m *Machine) *float64 { return &m.Flat }),
		bounds: func(t *Train, at LimitPlace) float64 { return t.Machines[at.Machine].MostSoft() }},
	{Kind: LimitLower, At: OfFoot, KeyOf: OfFoot, Key: "lower", Unit: UnitShim, SetBy: SetByUp,
		Fields: ofFoot(func(f *Foot) []*float64 { return []*float64{&f.Lower} })},
	{Kind: LimitRaise, At: OfFoot, KeyOf: OfFoot, Key: "raise", Unit: UnitShim, SetBy: SetByUp,
		Fields: ofFoot(func(f *Foot) []*float64 { return []*float64{&f.Raise} })},
	{Kind: LimitBolt, At: OfFoot, KeyOf: OfFoot, Key: "hole", Unit: UnitOffset, SetBy: SetByLeft, Tilt: BoltTilt,
		Fields: ofFoot(func(f *Foot) []*float64 { return []*float64{&f.Hole} }),
		bounds: func(t *Train, at LimitPlace) float64 { return t.Machines[at.Machine].Feet[at.Foot].Play() }},
	{Kind: LimitTravel, At: OfFoot, KeyOf: OfFoot, Key: "travel", Unit: UnitOffset, SetBy: SetByLeft,
		Fields: ofFoot(func(f *Foot) []*float64 { return []*float64{&f.TravelLeft, &f.TravelRight} })},
	{Kind: LimitHold, At: OfMachine, KeyOf: OfMachine, Key: "hold"},
	{Kind: LimitSteps, KeyOf: OfTrain, Key: "shims.step",
		Fields: func(t *Train, _ LimitPlace) []*float64 { return []*float64{&t.Shims.Step} }},
	{Kind: LimitStock, KeyOf: OfTrain, Key: "shims.stock"},
	{Kind: LimitLeast, KeyOf: OfTrain, Key: "aim.least_move",
		bounds: func(t *Train, _ LimitPlace) float64 { return t.Aim.Least(false) }},
}

func ofMachine(field func(*Machine) *float64) func(*Train, LimitPlace) []*float64 {
	return func(t *Train, at LimitPlace) []*float64 { return []*float64{field(&t.Machines[at.Machine])} }
}

func ofFoot(fields func(*Foot) []*float64) func(*Train, LimitPlace) []*float64 {
	return func(t *Train, at LimitPlace) []*float64 { return fields(&t.Machines[at.Machine].Feet[at.Foot]) }
}

func ofCoupling(k Kind) func(*Train, LimitPlace) []*float64 {
	return func(t *Train, at LimitPlace) []*float64 { return []*float64{t.Couplings[at.Coupling].Limit.Of(k)} }
}

// ShiftMost is how far in mm a machine may be shifted along the train by Relief.AxialMost: +Inf where a bolt in its
// hole bounds it, or where the file does not let it be shifted.
func (t *Train) ShiftMost(m *Machine) float64 {
	if !m.Axial {
		return math.Inf(1)
	}
	for f := range m.Feet {
		if !math.IsInf(m.Feet[f].Play(), 1) {
			return math.Inf(1)
		}
	}
	return t.Relief.AxialMost
}

// LimitKinds are all kinds of limits.
func LimitKinds() []LimitKind {
	kinds := make([]LimitKind, len(limitKinds))
	for i := range limitKinds {
		kinds[i] = limitKinds[i].Kind
	}
	return kinds
}

// Info is what is known of the kind.
func (k LimitKind) Info() *LimitInfo {
	for i := range limitKinds {
		if limitKinds[i].Kind == k {
			return &limitKinds[i]
		}
	}
	panic("train: no limit is of kind " + string(k))
}

// LimitKind is the kind of the coupling's limit on a measure.
func (k Kind) LimitKind() LimitKind {
	return [...]LimitKind{LimitOffset, LimitAngle, LimitFlex, LimitFlex, LimitGap}[k]
}
