package trainfile

import "leastmove/train"

// relief reads what options cost.
func relief(s *section) train.Relief {
	return train.Relief{
		Hole: s.number("hole"), Bolt: s.number("bolt"), Pack: s.number("pack"), Raise: s.number("raise"),
		Axial: s.number("axial"), Roll: s.number("roll"), Release: s.number("release"),
		Open: s.number("open"), Cut: s.number("cut"),
		AxialPerMM: s.number("axial_per_mm"), AxialMost: s.number("axial_most"),
	}
}
