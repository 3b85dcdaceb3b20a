package view

// A RolledShaft is how far the roll of its case takes a shaft.
type RolledShaft struct {
	Up, Left float64 // mm
}

// rolledOf are those of every shaft of every machine after the moves.
func rolledOf(p *Plan) [][]RolledShaft {
	out := make([][]RolledShaft, len(p.Train.Machines))
	for i := range p.Planned.Machines {
		m := &p.Train.Machines[i]
		for k := range m.Shafts {
			up, left := m.Rolled(k, p.Planned.Machines[i].Motion[Roll])
			out[i] = append(out[i], RolledShaft{up, left})
		}
	}
	return out
}
