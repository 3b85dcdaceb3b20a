package trainfile

import (
	"slices"

	"leastmove/train"
)

// shimStock are the thicknesses in mm that packs are made of, ascending; nil where the section states none.
func shimStock(s *section) []float64 {
	if !s.good("stock") {
		return nil
	}
	stock := slices.Clone(s.fields["stock"].numbers)
	slices.Sort(stock)
	return slices.Compact(stock)
}

// shimRules reads what a machine has in place of the train's rules for packs, and gives those that hold for it.
func (r *reader) shimRules(s *section, t *train.Train, m *train.Machine) train.Shims {
	m.Shims = train.ShimRules{Stock: shimStock(s)}
	if s.good("step") {
		m.Shims.Step = s.number("step")
		if m.Shims.Stepless = m.Shims.Step == 0; m.Shims.Stepless {
			m.Shims.Step = r.units.Resolution()
		}
	}
	if s.good("max_pieces") {
		m.Shims.MaxPieces = int(s.number("max_pieces"))
	}
	for _, key := range []string{"stock", "max_pieces"} {
		if m.Shims.Stepless && s.has(key) {
			r.fault(s.key(key), key+" says nothing of a machine on chocks or wedges (step = 0)",
				"leave one of the two out")
		}
	}
	one := *t
	one.Machines = []train.Machine{*m}
	return one.ShimsOf(0)
}
