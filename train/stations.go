package train

// Stations are the feet of a machine by where they stand along it, in the order of
// the file: indices of feet with the same X.
func (m *Machine) Stations() [][]int {
	var groups [][]int
	at := map[float64]int{}
	for f := range m.Feet {
		g, ok := at[m.Feet[f].X]
		if !ok {
			g = len(groups)
			at[m.Feet[f].X] = g
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], f)
	}
	return groups
}
