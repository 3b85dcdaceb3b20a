package optimize

// This file says how likely it is that a plan ends within the limits, the train
// file's [errors] given. Each error is independent and Gaussian with a standard
// deviation of its half-width (95 %) over 1.96:
//
//	offset, angle         of a found misalignment, at each coupling, vertical and horizontal:
//	                      of its own readings, or of [errors] where that is larger (train.FoundErrors)
//	placing               of the side move at each foot station of a machine that is moved
//	growth, growth_least  of growth and of journal shifts (growtherrors.go)
//
// An error moves every misalignment by a linear form, worked out about the plan:
// what the plan itself leaves is that of true geometry. The same error is there
// in every condition. The packs (a shim is as thick as it is marked) and what is
// wanted count as exact.

// A Source is one kind of error.
type Source int

const (
	FromOffset Source = iota
	FromAngle
	FromPlacing
	FromGrowth
	SourceCount
)

// String is the source in words.
func (s Source) String() string {
	return [...]string{"found offsets", "found angles", "placing of side moves", "growth"}[s]
}

// Sources are all of them.
func Sources() []Source { return []Source{FromOffset, FromAngle, FromPlacing, FromGrowth} }

// A Measurement is one thing that was measured or set, with an error of its own
// in each plane or at each station. Indices that do not apply are -1.
type Measurement struct {
	Source   Source
	Coupling int // of a found offset or angle
	Machine  int // of side moves or growth
}

// A Probability is how often a plan ends within all coupling limits in every
// condition, over many draws of the errors.
type Probability struct {
	Draws  int
	Within float64 // share of the draws
	Error  float64 // standard error of that share
	// Halved[s] is the share if the errors of source s were half as large, by the
	// same draws.
	Halved    [SourceCount]float64
	Better    []BetterProbability   // of each measurement better by half, by the same draws: the largest share first
	Couplings []CouplingProbability // of each coupling by itself
}

// A BetterProbability is the chance if one measurement were better by half.
type BetterProbability struct {
	Measurement
	Within float64 // share of the draws
}

// A CouplingProbability is that of one coupling.
type CouplingProbability struct {
	Within float64              // share of the draws
	Worst  Limit                // what was past its limit most often; where nothing ever was, what is nearest to it
	Shares [SourceCount]float64 // of the variance of Worst by source, vertical and horizontal added up; sum 1
}

// An ChanceConstraint is a chance that was asked for, and what came of it.
type ChanceConstraint struct {
	Asked float64 // share: the chance that every coupling ends within its limits
	// Reached says that the plan has it, by draws that the search did not see
	// (Plan.Sure). Where it was not reached the plan is the one with the highest
	// chance that was found.
	Reached bool
	None    bool    // proven: no plan has the chance
	BackOff float64 // standard deviations of its own errors by which every limit was held short
	// Most and Least are the largest and the smallest share by which that shortened
	// a limit.
	Most, Least float64
	// Without is the total in mm of the plan that may use all of the limits, and
	// WithoutChance the share of draws in which that ends within them: what the plan
	// moves beyond it is what the assurance costs.
	Without, WithoutProbability float64
}
