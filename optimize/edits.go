package optimize

import (
	"slices"

	"leastmove/train"
)

// Apply is the train with edits, as those of a relaxation.
func Apply(t *train.Train, edits []Edit) *train.Train {
	out := *t
	out.Machines = slices.Clone(t.Machines)
	for i := range out.Machines {
		out.Machines[i].Feet = slices.Clone(t.Machines[i].Feet)
		out.Machines[i].Nozzles = slices.Clone(t.Machines[i].Nozzles)
	}
	out.Couplings = slices.Clone(t.Couplings)
	for _, e := range edits {
		if e.Coupling >= 0 {
			*couplingLimitOf(&out.Couplings[e.Coupling].Limit, e.Key) = e.To
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

// couplingLimitOf is the limit of a coupling that a key of the train file states.
func couplingLimitOf(l *train.Limit, key string) *float64 {
	for _, k := range []train.Kind{train.Offset, train.Angle, train.Gap} {
		if k.LimitKind().Info().Key == key {
			return l.Of(k)
		}
	}
	panic("optimize: a coupling has no limit " + key)
}
