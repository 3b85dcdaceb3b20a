// Package optimize plans the moves of a whole train: which machines to move,
// and by how much at each foot, so that every coupling is within its limits in
// every condition, every foot within its own, and the total movement is least.
//
// The way through is in make.go: the train's linear forms become a lattice
// problem (build.go), package search finds whole-step moves for it with a
// proven lower bound, and what is found is checked by the train's true
// geometry before it leaves. Lengths are in mm, angles in mrad, shares and
// uses are ratios.
package optimize

import (
	"leastmove/bolts"
	"leastmove/train"
)

// A Status says what came of planning.
type Status int

const (
	Unsolved   Status = iota
	Planned           // a plan that passed its check
	Within            // nothing needs to move
	Impossible        // no plan exists: proven
	Undecided         // neither a plan nor a proof was found
)

// String is the status as outputs give it.
func (s Status) String() string {
	return [...]string{"unsolved", "planned", "within", "impossible", "undecided"}[s]
}

// A Plan is what the crew is asked to do, and what is known about it. What it
// says is proven (Bound, Lowest, the bounds of Prices, Impossible) was verified
// by package certify, which trusts nothing of the search. Its numbers are the printed ones: whole shim steps, sideways moves as a dial
// shows them; the states in it were worked out from those.
type Plan struct {
	Train  *train.Train
	Status Status

	Moves   train.Moves // zero moves where nothing moves; nil without a plan
	Found   train.State // before the moves, by true geometry
	Planned train.State // after them; zero without a plan

	Total float64 // mm, effort-weighted movement of all feet, touch included; NaN without a plan
	Plain float64 // mm, the same without weights; NaN without a plan
	Least float64 // mm, smallest total found; Total may be up to Spare above it, spent on closer couplings
	Bound float64 // mm, proven: no plan has a smaller total; NaN where nothing was proven
	Peak  float64 // mm, largest up or side move at any foot; NaN without a plan
	Moved int     // machines moved

	Aim     float64 // share of the coupling limits that the plan was asked to keep
	Reached float64 // largest share that it takes up in any condition; NaN without a plan
	// Lowest is a proven lower bound on the largest share, worked out where Aim
	// could not be met; NaN elsewhere.
	Lowest float64

	Prices   []Price  // what other aims would cost
	Ends     []End    // limits at their end in the plan: what keeps it from being smaller
	Clash    []Limit  // limits that cannot hold together: for Impossible
	Unstated []string // limits that the file does not state, in words
	Cut      string   // why the search stopped early, in words; "" where it did not
	Solves   int      // cone programs solved
}

// Spare is the share above the least total that a plan may spend on closer
// couplings.
const Spare = 0.005

// A Price is what keeping another share of the coupling limits costs.
type Price struct {
	Use   float64 // share of the limits
	Total float64 // mm, of a plan that keeps it; NaN: none was found
	Bound float64 // mm, no plan has a smaller total; +Inf: none exists
}

// A Limit names one limit of the train file. Indices that do not apply are -1.
type Limit struct {
	Kind      LimitKind
	Machine   int
	Foot      int
	Nozzle    int
	Coupling  int
	Condition int
}

// A LimitKind is one kind of limit.
type LimitKind string

const (
	LimitLower  LimitKind = "lower"  // mm out of a pack
	LimitRaise  LimitKind = "raise"  // mm into a pack
	LimitBolt   LimitKind = "bolt"   // mm of the bolt off the hole's centre
	LimitTravel LimitKind = "travel" // mm to a side
	LimitFlat   LimitKind = "flat"   // mm of soft foot that packs leave
	LimitLevel  LimitKind = "level"  // mrad off level
	LimitNozzle LimitKind = "nozzle" // mm of displacement
	LimitOffset LimitKind = "offset" // mm, at a coupling
	LimitAngle  LimitKind = "angle"  // mrad, at a coupling
	LimitFlex   LimitKind = "flex"   // mrad, at a spacer's flex planes
	LimitGap    LimitKind = "gap"    // mm of the distance between shaft ends
	LimitSteps  LimitKind = "steps"  // the whole steps of shims and dials
)

// An End is a limit that the plan takes up (almost) whole.
type End struct {
	Limit
	Value float64 // mm or mrad
	Bound float64 // mm or mrad
}

// A FootLimit is one limit of a foot and what the plan takes up of it.
type FootLimit struct {
	Kind  LimitKind
	Value float64 // mm
	Limit float64 // mm
}

// FootLimits are the stated limits of foot f of machine m, in the direction in
// which the plan moves it, and the room that is left to it.
func (p *Plan) FootLimits(m, f int) ([]FootLimit, bolts.Room) {
	foot := p.Train.Machines[m].Feet[f]
	var move train.FootMove
	var state train.FootState
	if p.Moves != nil {
		move, state = p.Moves[m][f], p.Planned.Machines[m].Feet[f]
	}
	return footLimits(foot, move, state)
}
