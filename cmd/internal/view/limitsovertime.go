package view

import (
	"leastmove/optimize"
	"leastmove/train"
)

// A Time is when something was so.
type Time int

const (
	AsFound   Time = iota // and nothing is to be moved, as far as is known
	Before                // before the moves
	AsPlanned             // what the plan said of after the moves
	After                 // after the moves
)

// A LimitOverTime is one limit of a coupling in one condition, and what is used of it.
type LimitOverTime struct {
	Coupling, Condition int
	Sum                 bool      // of all limits added up: uses have no kind, and a limit that is a share
	Uses                []TimeUse // one or more, in the order of their times
}

// A TimeUse is what is used of a limit at one time.
type TimeUse struct {
	Time Time
	train.Use
}

// limitsOf are those of a train's couplings as found, or before and after a plan's moves.
func limitsOf(p *optimize.Plan, planned bool) []LimitOverTime {
	var out []LimitOverTime
	for i := range p.Train.Couplings {
		for k := range p.Train.Conditions {
			timed := func(use func(r *train.Reading) train.Use) []TimeUse {
				found := use(&p.Found.Couplings[i][k])
				if !planned {
					return []TimeUse{{AsFound, found}}
				}
				return []TimeUse{{Before, found}, {After, use(&p.Planned.Couplings[i][k])}}
			}
			limit := &p.Train.Couplings[i].Limit
			for u := range p.Found.Couplings[i][k].Uses {
				out = append(out, LimitOverTime{Coupling: i, Condition: k,
					Uses: timed(func(r *train.Reading) train.Use { return r.Uses[u] })})
			}
			if limit.Combined {
				out = append(out, LimitOverTime{Coupling: i, Condition: k, Sum: true,
					Uses: timed(func(r *train.Reading) train.Use { return sumUse(p.Train, k, r.Sum) })})
			}
		}
	}
	return out
}

// sumUse is what a coupling uses of its limits, added up, in a condition of a train.
func sumUse(t *train.Train, condition int, share float64) train.Use {
	return train.Use{Limit: t.Conditions[condition].Use, Share: share}
}
