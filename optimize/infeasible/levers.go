package infeasible

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A lever is one amount that a crew or a shop may set.
type lever struct {
	edit optimize.Edit // To is left open
	rate float64       // of the edited value, per unit of the amount
	cost float64       // per mm, or per share
	most float64       // mm, or share
	step float64       // what a shop does: amounts are whole multiples
}

// amountKinds are the kinds of relaxation by amounts, switchKinds those that a machine
// either has or has not.
func amountKinds() []optimize.RelaxationKind {
	return []optimize.RelaxationKind{optimize.OpenHoles, optimize.TurnBolts, optimize.MakePack, optimize.RaiseMore}
}

func switchKinds() []optimize.RelaxationKind {
	return []optimize.RelaxationKind{optimize.ShiftAxially, optimize.LetRoll, optimize.Release}
}

// levers are the amounts of one kind of relaxation; of every kind for Mix.
func levers(t *train.Train, kind optimize.RelaxationKind) []lever {
	if kind == optimize.Mix {
		var all []lever
		for _, k := range amountKinds() {
			all = append(all, levers(t, k)...)
		}
		return all
	}
	hole, shank := 0.5, 0.1 // mm
	if t.Units == train.Inches {
		hole, shank = 16*train.Mil, 5*train.Mil // 1/64 in, as it is written
	}
	var out []lever
	for i := range t.Machines {
		m := &t.Machines[i]
		if m.Hold {
			continue
		}
		for f := range m.Feet {
			foot := &m.Feet[f]
			at := optimize.Edit{Machine: i, Foot: f, Coupling: -1}
			known := foot.HoleKnown()
			switch {
			case kind == optimize.OpenHoles && known:
				at.Key, at.From = "hole", foot.Hole
				out = append(out, lever{at, 1, t.Relief.Hole, t.Relief.Open, hole})
			case kind == optimize.TurnBolts && known && foot.Minor > 0 && foot.Minor < foot.Bolt:
				at.Key, at.From = "bolt", foot.Bolt
				out = append(out, lever{at, -1, t.Relief.Bolt, foot.Bolt - foot.Minor, shank})
			case kind == optimize.MakePack && !math.IsInf(foot.Lower, 1):
				at.Key, at.From = "cut", foot.Cut
				out = append(out, lever{at, 1, t.Relief.Pack, t.Relief.Cut, t.ShimsOf(i).Step})
			case kind == optimize.RaiseMore && !math.IsInf(foot.Raise, 1):
				at.Key, at.From = "raise", foot.Raise
				out = append(out, lever{at, 1, t.Relief.Raise, highest, t.ShimsOf(i).Step})
			}
		}
	}
	return out
}

// highest is how much more than stated, in mm, a pack is ever raised.
const highest = 50

// apply sets a lever to an amount.
func (l *lever) apply(amount float64) optimize.Edit {
	e := l.edit
	e.To = e.From + l.rate*amount
	return e
}

// switches are the edits of a kind that a machine either has or has not.
func switches(t *train.Train, kind optimize.RelaxationKind) []optimize.Edit {
	var out []optimize.Edit
	for i := range t.Machines {
		m := &t.Machines[i]
		e := optimize.Edit{Machine: i, Foot: -1, Coupling: -1, To: 1}
		switch {
		case kind == optimize.ShiftAxially && !m.Axial && !m.Hold && len(m.Feet) > 0:
			e.Key = "axial"
		case kind == optimize.LetRoll && len(m.Shafts) > 1 && !m.Roll && !m.Hold && len(m.Feet) > 0: // a gear case
			e.Key = "roll"
		case kind == optimize.Release && m.Hold && len(m.Feet) > 0:
			e.Key, e.From, e.To = "hold", 1, 0
		default:
			continue
		}
		out = append(out, e)
	}
	return out
}
