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
	EachPlane           bool      // up and sideways are limited each, not what they come to together
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
			for u, found := range p.Found.Couplings[i][k].Uses {
				l := LimitOverTime{Coupling: i, Condition: k, EachPlane: p.Train.Couplings[i].Limit.EachPlane}
				l.Uses = []TimeUse{{AsFound, found}}
				if planned {
					l.Uses = []TimeUse{{Before, found}, {After, p.Planned.Couplings[i][k].Uses[u]}}
				}
				out = append(out, l)
			}
			if p.Train.Couplings[i].Limit.Combined {
				l := LimitOverTime{Coupling: i, Condition: k, Sum: true}
				l.Uses = []TimeUse{{AsFound, sumUse(p.Train, k, p.Found.Couplings[i][k].Sum)}}
				if p.Status == optimize.Planned {
					l.Uses = []TimeUse{{Before, l.Uses[0].Use}, {After, sumUse(p.Train, k, p.Planned.Couplings[i][k].Sum)}}
				}
				out = append(out, l)
			}
		}
	}
	return out
}

// sumUse is what a coupling uses of its limits, added up, in a condition of a train.
func sumUse(t *train.Train, condition int, share float64) train.Use {
	return train.Use{Limit: t.Conditions[condition].Use, Share: share}
}
