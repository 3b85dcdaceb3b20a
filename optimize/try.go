package optimize

import "leastmove/train"

// Try is the plan of any moves of a train, with the limits that they break.
func Try(t *train.Train, moves train.Moves) *Plan {
	p := newPlan(t, Options{})
	p.Status, p.Moves, p.Planned = Tried, moves, p.Train.Check(moves)
	p.Reached = p.Planned.Worst()
	p.Measure()
	p.packs()
	for _, r := range Limits(p.Train, moves, &p.Planned, 1) {
		if r.Listed() && r.Broken {
			p.Broken = append(p.Broken, r.Constraint)
		}
	}
	for i := range t.Machines {
		if t.Machines[i].Hold && moves.Moved(i) {
			l := Unplaced(train.LimitHold)
			l.Machine = i
			p.Broken = append(p.Broken, Constraint{Limit: l})
		}
	}
	return p
}
