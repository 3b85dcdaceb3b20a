// Package optimize plans the moves of a whole train: which machines to move,
// and by how much at each foot, so that every coupling is within its limits in
// every condition, every foot within its own, and the total movement is least.
//
// The way through is in make.go: the train's linear forms become the mixed-integer
// problem (build.go), package bnb finds whole-step moves for it with a
// proven lower bound, and what is found is checked by the train's true
// geometry before it leaves. Lengths are in mm, angles in mrad, shares and
// uses are ratios.
package optimize

import (
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
	Tried             // moves made by a rule: limits may be broken
)

// String is the status as outputs give it.
func (s Status) String() string {
	return [...]string{"unsolved", "planned", "within", "impossible", "undecided", "tried"}[s]
}

// A Result is what the crew is asked to do, and what is known about it, as plain values. What it
// says is proven (Bound, Lowest, the bounds of Front, Impossible) was verified by package certify,
// which trusts nothing of the search. Its numbers are the printed ones: whole shim steps, sideways
// moves as a dial shows them; the states in it were worked out from those.
type Result struct {
	Train  *train.Train // with the gaps under its soft feet filled
	File   *train.Train // as the file has it
	Status Status

	Moves   train.Moves // zero moves where nothing moves; nil without a plan
	Found   train.State // before the moves, by true geometry
	Planned train.State // after them; zero without a plan

	Total float64 // mm, effort-weighted movement of all feet, fixed cost included; NaN without a plan
	Plain float64 // mm, the same without weights; NaN without a plan
	// mm, smallest total found; Total may be up to Spare above it, spent on fewer machines or closer couplings
	Least float64
	Bound float64 // mm, proven: no plan has a smaller total; NaN where nothing was proven
	// FirstOrderBound is the same by the linear forms alone, which may be off, in mm, at least Bound; NaN where nothing
	// was proven of them.
	FirstOrderBound float64
	Largest         float64 // mm, largest move at any foot: up, to a side or along the train; NaN without a plan
	Moved           int     // machines moved

	Strategy Strategy // what was made least
	// First is the strategy's own measure, where it is not the total: mm,
	// machines, feet or a share; FirstBound is proven: no plan has a smaller one.
	// NaN where the strategy has none, or where nothing was proven.
	First, FirstBound float64

	Aim     float64 // share of the coupling limits that the plan was asked to keep
	Reached float64 // largest share that it uses in any condition; NaN without a plan
	// share that Least and Bound are for: Aim, or where that can't be kept the lowest that was found and a
	// little; NaN without a plan
	Kept float64
	// Lowest is a proven lower bound on the largest share, worked out where Aim
	// could not be met; NaN elsewhere.
	Lowest float64

	Probability      *Probability      // that it ends within limits; nil: the file states no errors, or there are no moves
	ChanceConstraint *ChanceConstraint // for Assure: the chance that was asked for; nil elsewhere
	Active           []Constraint      // limits at their end in the plan: what keeps it from being smaller
	Broken           []Constraint      // limits that the moves break: for Tried; of what does not change with them none
	Conflict         []Member          // limits that cannot hold together: for Impossible and FirstOrder
	Relaxations      []Relaxation      // least relaxations of the conflict, cheapest first: likewise
	FirstOrder       bool              // Undecided, and no plan by linear forms: Conflict and Relaxations hold for these
	Hopeless         bool              // proven: nothing but wider coupling limits helps, however much of it
	ShadowPrices     []ShadowPrice     // of the active constraints, largest saving first
	Packs            []Pack            // what goes under each foot whose pack changes
	Shims            []Shim            // all that goes in, by thickness: the shopping list
	Soft             []Soft            // feet whose measured soft foot comes first
	Unstated         []string          // limits that the file does not state, in words
	Cut              string            // why the search stopped early, in words; "" where it did not
	Solves           int               // cone programs solved
}

// A Plan is a result that other strategies may start from.
type Plan struct {
	Result
	Nearest *Plan      // for Undecided: moves that break limits of couplings alone, and these by least; nil: none
	SoFar   bool       // of Options.Early: the best so far of a search that goes on
	begun   *beginning // nil: there is nothing to start from
}

// Spare is the share above the least total that a plan may spend on moving fewer
// machines, and then on closer couplings.
const Spare = 0.005

// A Member is a limit of a conflict and which way it is at odds with the others.
type Member struct {
	Limit
	Short float64 // mm or mrad, that this limit alone would have to be relaxed for the rest to hold; NaN: no help
}

// A Relaxation is one relaxation of a conflict. The train with its edits has a plan:
// planning it is how the relaxation was proven.
type Relaxation struct {
	Kind  RelaxationKind
	Edits []Edit
	Cost  float64     // by the train's Relief
	Least float64     // the least cost before rounding to what a shop does, whole steps left out
	Total float64     // mm, of the plan that it makes possible
	Bound float64     // mm, proven: with these edits no plan has a smaller total; NaN where nothing was proven
	Moves train.Moves // of that plan, at all of the coupling limits
}

// A RelaxationKind is one kind of relaxation.
type RelaxationKind string

const (
	OpenHoles    RelaxationKind = "open holes"
	TurnBolts    RelaxationKind = "turn down bolts"
	MakePack     RelaxationKind = "make room under feet"
	RaiseMore    RelaxationKind = "raise further"
	ShiftAxially RelaxationKind = "shift along the train"
	LetRoll      RelaxationKind = "let roll" // a gear case
	Release      RelaxationKind = "release a held machine"
	Mix          RelaxationKind = "mix"
	Widen        RelaxationKind = "widen a limit"
)

// An Edit is one change of the train file: of a key of a foot, a machine or a
// coupling. Indices that do not apply are -1.
type Edit struct {
	Machine, Foot, Coupling int
	// as the file has it: "hole", "bolt", "lower", "raise", "axial", "roll", "hold", "limit.angle"
	Key      string
	From, To float64 // mm, mrad or ratio; for "axial", "roll", "hold" 0 is false and 1 true
	Shift    float64 // mm along the train, + toward the last machine: for "axial", of the plan that was found
}

// A ShadowPrice is what a limit costs the plan.
type ShadowPrice struct {
	Constraint
	Feet   []int   // at a machine: the feet whose limits change together; nil: it is no foot's limit
	Price  float64 // mm of the total per mm or mrad of the limit, whole steps left out
	By     float64 // mm or mrad, the change looked at: of a hole's diameter for a bolt, else of the limit
	AtMost float64 // mm, proven: with the limit wider by By no plan is smaller than Least by more
	Wider  float64 // mm that the total falls by, limit wider by By, whole steps left out
	Closer float64 // mm that it rises by, limit closer by By, likewise; +Inf: then nothing keeps the limits
}

// A Pack is the shims under one foot, before and after.
type Pack struct {
	Machine, Foot int
	Now, Then     []float64 // mm, pieces from the base up; Now nil: not stated
	Out, In       []float64 // mm, pieces
}

// A Shim is a piece to have at hand.
type Shim struct {
	Thickness float64 // mm
	Count     int
}

// A Soft is a foot that does not bear: what goes under it before anything else.
type Soft struct {
	Machine, Foot int
	Gap           float64 // mm, as measured
	Fill          float64 // mm, what is added for it, in whole steps
}
