package trainfile

import "leastmove/train"

// Defaults of [relief] for mm and for inch files, in mm. Common practice, no
// source: they are ours, as are the costs below.
var (
	defaultOpen = [2]float64{6, 0.25 * train.Inch}
	defaultCut  = [2]float64{3, 120 * train.Mil}
)

// relief reads what ways out of a clash cost.
func relief(s *section, u train.Units) train.Relief {
	return train.Relief{
		Hole: s.number("hole", 20), Bolt: s.number("bolt", 10), Pack: s.number("pack", 40), Raise: s.number("raise", 5),
		Axial: s.number("axial", 30), Roll: s.number("roll", 5), Release: s.number("release", 200),
		Open: s.number("open", defaultOpen[u]), Cut: s.number("cut", defaultCut[u]),
	}
}
