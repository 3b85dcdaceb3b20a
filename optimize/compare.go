package optimize

import (
	"context"
	"math"

	"leastmove/train"
)

// A Way is one way to move a train, and what comes of it.
type Way struct {
	Kind WayKind
	// Strategy is that of a planned way; Machine the machine that is held, or from
	// which a cascade starts, -1: none.
	Strategy Strategy
	Machine  int
	Plan     *Plan
}

// A WayKind is a kind of way.
type WayKind string

const (
	ByStrategy WayKind = "strategy"
	ByHolding  WayKind = "hold"     // least total with one machine held
	ByCascade  WayKind = "cascade"  // see Cascade
	ByLine     WayKind = "straight" // see StraightLine
)

// Compare plans the train by every strategy, with each machine that may be moved
// held in turn, and by what is done without a planner. Options but Strategy and
// Brief are those of each plan; with From, that plan is not made again where it is
// one of them. An error is one of Make.
func Compare(ctx context.Context, t *train.Train, opt Options) ([]Way, error) {
	opt.Brief = true
	var ways []Way
	for _, s := range Strategies() {
		opt.Strategy = s
		p := opt.From
		if p == nil || !p.by(s) {
			var err error
			if p, err = Make(ctx, t, opt); err != nil {
				return nil, err
			}
		}
		if opt.From == nil {
			opt.From = p
		}
		ways = append(ways, Way{ByStrategy, s, -1, p})
	}
	opt.Strategy = LeastTotal
	given, err := opt.given(t)
	if err != nil {
		return nil, err
	}
	held := opt
	held.From = nil // of another train
	for i := range given.Machines {
		if given.Machines[i].Hold {
			continue
		}
		held.Hold = append(append([]string(nil), opt.Hold...), given.Machines[i].Name)
		p, err := Make(ctx, t, held)
		if err != nil {
			return nil, err
		}
		ways = append(ways, Way{ByHolding, LeastTotal, i, p})
	}
	for i := range given.Machines {
		ways = append(ways, Way{ByCascade, "", i, Cascade(given, i)})
	}
	ways = append(ways, Way{ByLine, "", -1, StraightLine(given)})
	for _, w := range ways {
		if w.Plan.Sure == nil {
			w.Plan.Sure = w.Plan.Chance(chanceDraws)
		}
	}
	return ways, nil
}

// by says whether a plan was made by a strategy.
func (p *Plan) by(s Strategy) bool {
	return p.Strategy == s || p.Strategy == "" && s == LeastTotal
}

// Weighted says whether a total is more than the plain movement: some machine is
// harder or easier to move than usual, or moving one costs something at all.
func Weighted(t *train.Train) bool {
	for i := range t.Machines {
		if !t.Machines[i].Hold && t.Machines[i].Effort != 1 {
			return true
		}
	}
	return t.Aim.Touch > 0
}

// Touched is how many feet the plan touches.
func (p *Plan) Touched() int { return touched(p.Moves) }

// moved is how many machines the moves move.
func moved(moves train.Moves) int {
	n := 0
	for i := range moves {
		if moves.Moved(i) {
			n++
		}
	}
	return n
}

func touched(moves train.Moves) int {
	n := 0
	for _, feet := range moves {
		for _, f := range feet {
			if f != (train.FootMove{}) {
				n++
			}
		}
	}
	return n
}

// Reserve is the limit of a foot that the plan comes nearest to, of those stated
// at machines that it moves; Bound less Value is what is left in mm, negative
// where it is broken. False: none is stated there.
func (p *Plan) Reserve() (End, bool) {
	var nearest End
	found := false
	if p.Moves == nil {
		return nearest, false
	}
	for _, s := range p.stands() {
		switch s.Kind {
		case LimitLower, LimitRaise, LimitBolt, LimitTravel:
		default:
			continue
		}
		if math.IsInf(s.Bound, 1) || !p.Moves.Moved(s.Machine) {
			continue
		}
		if !found || s.Bound-s.Value < nearest.Bound-nearest.Value {
			nearest, found = s.End, true
		}
	}
	return nearest, found
}
