package optimize

import "leastmove/train"

// GrowthMissing are the machines whose growth from cold to running the file does not
// state at all: it is taken as none.
func GrowthMissing(t *train.Train) []int {
	var out []int
	for i := range t.Machines {
		if growthMissing(&t.Machines[i]) {
			out = append(out, i)
		}
	}
	return out
}

func growthMissing(m *train.Machine) bool {
	for _, s := range m.Shafts {
		if s.Growth != nil {
			return false
		}
	}
	return m.Growth.Unknown
}
