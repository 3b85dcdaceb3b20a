package optimize

import (
	"math"
	"slices"

	"leastmove/train"
)

// A lever is one amount that a crew or a shop may set.
type lever struct {
	edit Edit    // To is left open
	rate float64 // of the edited value, per unit of the amount
	cost float64 // per mm, or per share
	most float64 // mm, or share
	step float64 // what a shop does: amounts are whole multiples
}

// amountKinds are the kinds of relaxation by amounts, switchKinds those that a machine
// either has or has not.
func amountKinds() []RelaxationKind {
	return []RelaxationKind{OpenHoles, TurnBolts, MakePack, RaiseMore}
}
func switchKinds() []RelaxationKind { return []RelaxationKind{ShiftAxially, LetRoll, Release} }

// levers are the amounts of one kind of relaxation; of every kind for Mix.
func levers(t *train.Train, kind RelaxationKind) []lever {
	if kind == Mix {
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
			at := Edit{Machine: i, Foot: f, Coupling: -1}
			known := FootOf(*foot).Known()
			switch {
			case kind == OpenHoles && known:
				at.Key, at.From = "hole", foot.Hole
				out = append(out, lever{at, 1, t.Relief.Hole, t.Relief.Open, hole})
			case kind == TurnBolts && known && foot.Minor > 0 && foot.Minor < foot.Bolt:
				at.Key, at.From = "bolt", foot.Bolt
				out = append(out, lever{at, -1, t.Relief.Bolt, foot.Bolt - foot.Minor, shank})
			case kind == MakePack && !math.IsInf(foot.Lower, 1):
				at.Key, at.From = "cut", foot.Cut
				out = append(out, lever{at, 1, t.Relief.Pack, t.Relief.Cut, t.Shims.Step})
			case kind == RaiseMore && !math.IsInf(foot.Raise, 1):
				at.Key, at.From = "raise", foot.Raise
				out = append(out, lever{at, 1, t.Relief.Raise, highest, t.Shims.Step})
			}
		}
	}
	return out
}

// highest is how much more than stated, in mm, a pack is ever raised.
const highest = 50

// apply sets a lever to an amount.
func (l *lever) apply(amount float64) Edit {
	e := l.edit
	e.To = e.From + l.rate*amount
	return e
}

// Relax is the train with the edits of a relaxation.
func Relax(t *train.Train, r Relaxation) *train.Train { return Apply(t, r.Edits) }

func Apply(t *train.Train, edits []Edit) *train.Train {
	out := *t
	out.Machines = slices.Clone(t.Machines)
	for i := range out.Machines {
		out.Machines[i].Feet = slices.Clone(t.Machines[i].Feet)
	}
	out.Couplings = slices.Clone(t.Couplings)
	for _, e := range edits {
		if e.Coupling >= 0 {
			*CouplingLimit(&out.Couplings[e.Coupling].Limit, e.Key) = e.To
			continue
		}
		m := &out.Machines[e.Machine]
		switch e.Key {
		case "axial":
			m.Axial = e.To == 1
		case "roll":
			m.Roll = e.To == 1
		case "hold":
			m.Hold = e.To == 1
		case "hole":
			m.Feet[e.Foot].Hole = e.To
		case "bolt":
			m.Feet[e.Foot].Bolt = e.To
		case "raise":
			m.Feet[e.Foot].Raise = e.To
		case "cut":
			m.Feet[e.Foot].Cut = e.To
			m.Feet[e.Foot].Lower += e.To - e.From
		}
	}
	return &out
}

// CouplingLimit is the limit of a coupling that a key of the train file states.
func CouplingLimit(l *train.Limit, key string) *float64 {
	switch key {
	case "limit.offset":
		return &l.Offset
	case "limit.angle":
		return &l.Angle
	case "limit.gap":
		return &l.Gap
	}
	panic("optimize: a coupling has no limit " + key)
}

// switches are the edits of a kind that a machine either has or has not.
func switches(t *train.Train, kind RelaxationKind) []Edit {
	var out []Edit
	for i := range t.Machines {
		m := &t.Machines[i]
		e := Edit{Machine: i, Foot: -1, Coupling: -1, To: 1}
		switch {
		case kind == ShiftAxially && !m.Axial && !m.Hold && len(m.Feet) > 0:
			e.Key = "axial"
		case kind == LetRoll && len(m.Shafts) > 1 && !m.Roll && !m.Hold && len(m.Feet) > 0: // a gear case
			e.Key = "roll"
		case kind == Release && m.Hold && len(m.Feet) > 0:
			e.Key, e.From, e.To = "hold", 1, 0
		default:
			continue
		}
		out = append(out, e)
	}
	return out
}
