package view

import (
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// A Plan is a plan and what pages say of it.
type Plan struct {
	optimize.Result
	plan     *optimize.Plan // that it is of, for what is worked out further
	pool     *ways.Pool     // that it was taken from; nil: from none
	Relieved *Relieved      // the option that the planned train has; nil: none

	Early       bool          // nothing is proven of it yet, and no chance worked out
	Provisional bool          // made from readings that a soft foot may have falsified: to be made again from new ones
	FirstIn     words.Measure // of First and FirstBound
	Gap         float64       // share of the total by which it may be above the least, proven; NaN: nothing is proven
	KeptShare   float64       // share of the limits that Least and Bound speak of
	Missed      bool          // the aim is not met
	Unreachable bool          // proven: it can't be
	Explained   bool          // no plan exists, proven or to first order: Conflict and Relaxations are told
	Nearest     *Plan         // undecided: the moves that miss the couplings' limits by least; nil: none are known
	OverLeast   float64       // mm, total above the smallest one found; 0 where it is that
	// mm, total beyond that of the plan that may use all of every limit; NaN: no chance was asked for
	Extra    float64
	SoftFeet []SoftFoot      // before anything else
	Ends     []Constraint    // what keeps the plan from being smaller, each limit once
	Chance   *Chance         // of ending within limits; nil: not worked out
	Open     []Unstated      // what there is no chance without, where the file states errors and leaves it open
	Used     []UsedOver      // of the limits of each coupling; nil without a plan
	Looser   []Looser        // couplings whose readings are less certain than [errors]: the chance counts with those
	Changes  [][]PackChange  // [machine][foot]; nil without a plan
	Rooms    [][]FootRoom    // [machine][foot], after the moves; nil without a plan
	Warm     []Transient     // by coupling, the worst in warm-up after the moves; without a plan as found
	AtRest   []Reading       // by coupling, after the moves, cold and at standstill; nil without a plan
	Rolled   [][]RolledShaft // [machine][shaft], by the roll of the moves; nil without a plan
	Readings []*CouplingRead // of each coupling; nil: it has none
	Unseen   []int           // couplings of which a misread position of a dial would not show
	Survey   *Survey         // nil: there is none
	Growth   []Growth        // of both ends of every shaft
	Sums     []Sum           // every misalignment taken apart
	Parting  *Parting        // of a conflict that no move can end; nil: none
	Summary  Summary         // for the short page
	Verdict  *PlanVerdict    // whether to carry it out; nil: there are no moves to judge
	Others   *OtherPlans     // from the pool of plans; nil: not asked for
}

// A Relieved says with which option of a conflict a train was planned.
type Relieved struct {
	Number int // in the list of the train without it, from 1
	Relaxation
	Flags []string // of `leastmove plan FILE` that plan with it, beside those of what is asked for
}

// Of are the facts of a plan.
func Of(o *optimize.Plan) *Plan {
	p := &Plan{
		Result: o.Result, plan: o, Provisional: o.Provisional(),
		Gap: gapOf(o), KeptShare: keptOf(o), Ends: Distinct(o.Active),
		Chance: chanceOf(o.Probability), Extra: math.NaN(), SoftFeet: softFeet(o),
	}
	switch o.Strategy {
	case Minimax:
		p.FirstIn = words.InMoves
	case Closest:
		p.FirstIn = words.InShares
	}
	p.Readings, p.Survey, p.Unseen = readingsOf(o.Train), surveyOf(o.Train), unseenOf(o.Train)
	p.Missed = o.Reached > o.Aim*(1+Fair)
	p.Unreachable = p.Missed && o.Lowest > o.Aim // not where it is NaN
	if o.Total > o.Least*(1+Fair) {
		p.OverLeast = o.Total - o.Least
	}
	if a := o.ChanceConstraint; a != nil {
		p.Extra = o.Total - a.Without
	}
	if o.Moves != nil && o.Train.Errors != (train.Errors{}) {
		p.Open = o.Train.Unstated()
	}
	if o.Moves != nil {
		p.Changes, p.Used = changesOf(o), usedOf(o.Planned.Couplings)
		p.Rooms, p.AtRest, p.Rolled = roomsOf(o.Train, o), optimize.AtRest(o.Train, o.Moves), rolledOf(p)
	}
	if p.Warm = o.Planned.Warm; p.Warm == nil {
		moves := o.Moves
		if moves == nil {
			moves = o.Train.Stay()
		}
		p.Warm = o.Train.Transients(moves)
	}
	p.Explained = o.Status == optimize.Impossible || o.FirstOrder
	if o.Nearest != nil {
		p.Nearest = Of(o.Nearest)
	}
	p.Looser, p.Growth, p.Sums, p.Parting = looserOf(o.Train), growthOf(o.Train), sumsOf(p), partingOf(p)
	p.Summary, p.Verdict = summaryOf(p), VerdictOn(o, &OtherPlans{}, o.Train.Aim.Chance)
	return p
}

// changesOf are what becomes of every pack.
func changesOf(p *optimize.Plan) [][]PackChange {
	out := make([][]PackChange, len(p.Moves))
	for i := range p.Moves {
		for f := range p.Moves[i] {
			out[i] = append(out[i], p.Train.PackChange(i, f, p.Moves[i][f].Up))
		}
	}
	return out
}

// gapOf is the share of the total by which the least one can be lower at most: total less bound, divided by the total.
func gapOf(p *optimize.Plan) float64 {
	switch {
	case p.Total == 0:
		return 0
	case p.Bound > p.Total:
		return 0 // by rounding alone
	}
	return (p.Total - p.Bound) / p.Total
}

// Fair is the share of a limit by which a checked plan may pass it for the tolerances of the solver.
const Fair = words.Fair
