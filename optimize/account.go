package optimize

import (
	"math"
	"slices"

	"leastmove/train"
)

// Measure adds up the movement.
func (p *Plan) Measure() {
	p.Total, p.Plain, p.Largest, p.Moved = 0, 0, 0, 0
	for i, feet := range p.Moves {
		m := &p.Train.Machines[i]
		sum := Movement(feet)
		for _, f := range feet {
			p.Largest = max(p.Largest, math.Abs(f.Up), math.Abs(f.Left), math.Abs(f.Axial))
		}
		p.Plain += sum
		p.Total += m.Effort * sum
	}
	p.Moved = MachinesMoved(p.Moves)
	p.Total += float64(p.Moved) * p.Train.Aim.FixedCost
	if p.Status == Within {
		p.Least, p.Bound, p.FirstOrderBound = 0, 0, 0
	}
}

// Movement is how far the feet of a machine move together, in mm: up, to a side and along the train.
func Movement(feet []train.FootMove) float64 {
	var sum float64
	for _, f := range feet {
		sum += math.Abs(f.Up) + math.Abs(f.Left) + math.Abs(f.Axial)
	}
	return sum
}

// findActive lists the limits that keep the plan from being smaller: those that it
// uses almost whole, couplings as far as they may be used.
func (p *Plan) findActive() {
	p.Active = nil
	if p.Status == Within {
		return
	}
	for _, r := range p.Limits() {
		if r.Reached {
			p.Active = append(p.Active, r.Constraint)
		}
	}
}

// Limits are the stated limits with their values in the plan. Couplings may use as much as
// was asked for, or what the plan had to take.
func (p *Plan) Limits() []LimitRow {
	all := Limits(p.Train, p.Moves, &p.Planned, math.Max(p.Aim, p.Reached))
	return slices.DeleteFunc(all, func(r LimitRow) bool { return !r.Listed() })
}

// Reserve is the limit of a foot that the plan comes nearest to, of those stated
// at machines that it moves; Bound less Value is what is left in mm, negative
// where it is broken. False: none is stated there.
func (p *Plan) Reserve() (Constraint, bool) {
	var nearest Constraint
	found := false
	if p.Moves == nil {
		return nearest, false
	}
	for _, s := range p.Limits() {
		if s.Kind.Info().SetBy == train.SetByNone || !p.Moves.Moved(s.Machine) {
			continue
		}
		if !found || s.Bound-s.Value < nearest.Bound-nearest.Value {
			nearest, found = s.Constraint, true
		}
	}
	return nearest, found
}
