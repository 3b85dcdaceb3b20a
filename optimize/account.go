package optimize

import (
	"math"
	"strings"

	"leastmove/train"
)

// measure adds up the movement.
func (p *Plan) measure() {
	p.Total, p.Plain, p.Largest, p.Moved = 0, 0, 0, 0
	for i, feet := range p.Moves {
		m := &p.Train.Machines[i]
		var sum float64
		for _, f := range feet {
			sum += math.Abs(f.Up) + math.Abs(f.Left) + math.Abs(f.Axial)
			p.Largest = math.Max(p.Largest, math.Max(math.Abs(f.Up), math.Abs(f.Left)))
		}
		p.Plain += sum
		p.Total += m.Effort * sum
	}
	p.Moved = MachinesMoved(p.Moves)
	p.Total += float64(p.Moved) * p.Train.Aim.FixedCost
	if p.Status == Within {
		p.Least, p.Bound = 0, 0
	}
}

// nearEnd is the share of a limit from which on a plan counts as standing at
// its end.
const nearEnd = 0.97

// findActive lists the limits that keep the plan from being smaller: those that it
// takes up almost whole, couplings as far as they may be used.
func (p *Plan) findActive() {
	p.Active = nil
	if p.Status == Within {
		return
	}
	for _, s := range p.constraints() {
		if s.active {
			p.Active = append(p.Active, s.Constraint)
		}
	}
}

// A constraintState is a stated limit with its value, and whether the plan is at it.
type constraintState struct {
	Constraint
	active bool // as good as at its end
}

// constraints are every stated limit with its value in the plan.
func (p *Plan) constraints() []constraintState {
	return constraintsAt(p.Train, p.Moves, &p.Planned, math.Max(p.Aim, p.Reached))
}

// Constraints are every stated limit of a train with its value after some moves. The
// state must be the true geometry of the moves.
func Constraints(t *train.Train, moves train.Moves, state *train.State) []Constraint {
	var out []Constraint
	for _, c := range constraintsAt(t, moves, state, 1) {
		out = append(out, c.Constraint)
	}
	return out
}

// constraintsAt are every stated limit with its value after some moves. Couplings may use
// the share allowed of their limits.
func constraintsAt(t *train.Train, moves train.Moves, state *train.State, allowed float64) []constraintState {
	var out []constraintState
	add := func(l Limit, value, bound float64, reached bool) {
		out = append(out, constraintState{Constraint{l, value, bound}, reached})
	}
	for i, conditions := range state.Couplings {
		for k := range conditions {
			for _, u := range conditions[k].Uses {
				add(OfCoupling(KindOf(u.Kind), i, k), u.Share*u.Limit, u.Limit, u.Share >= nearEnd*allowed)
			}
		}
	}
	for i := range t.Machines {
		m, s := &t.Machines[i], &state.Machines[i]
		if m.Hold {
			continue
		}
		l := Unplaced(LimitPitch)
		l.Machine = i
		if v := math.Abs(s.Pitch); !math.IsInf(m.Level.Pitch, 1) {
			add(l, v, m.Level.Pitch, v >= nearEnd*m.Level.Pitch)
		}
		if v := math.Abs(s.Roll); !math.IsInf(m.Level.Roll, 1) {
			l := l
			l.Kind = LimitRoll
			add(l, v, m.Level.Roll, v >= nearEnd*m.Level.Roll)
		}
		for n, z := range m.Nozzles {
			if !math.IsInf(z.Limit, 1) {
				l := l
				l.Kind, l.Nozzle = LimitNozzle, n
				add(l, s.Nozzles[n], z.Limit, s.Nozzles[n] >= nearEnd*z.Limit)
			}
		}
		for f := range m.Feet {
			l := l
			l.Kind, l.Foot = LimitFlat, f
			v := math.Abs(s.Feet[f].Soft)
			add(l, v, t.Shims.Flat, v >= nearEnd*t.Shims.Flat)
			limits, _ := FootLimits(t, moves, state, i, f)
			for _, fl := range limits {
				l.Kind = fl.Kind
				least := Resolution(t.Units)
				if fl.Kind == LimitLower || fl.Kind == LimitRaise {
					least = t.Shims.Step
				}
				add(l, fl.Value, fl.Limit, fl.Limit-fl.Value < least)
			}
		}
	}
	return out
}

// unstated lists the limits that the file leaves open, in words.
func unstated(t *train.Train) []string {
	var out []string
	for i := range t.Machines {
		m := &t.Machines[i]
		if m.Hold {
			continue
		}
		for _, what := range []struct {
			words string
			open  func(train.Foot) bool
		}{
			{"no bolt or hole", func(f train.Foot) bool {
				return !FootOf(f).Known() && math.IsInf(f.TravelLeft, 1) && math.IsInf(f.TravelRight, 1)
			}},
			{"no pack, and no limit on taking shims out", func(f train.Foot) bool { return math.IsInf(f.Lower, 1) }},
			{"no limit on raising", func(f train.Foot) bool { return math.IsInf(f.Raise, 1) }},
		} {
			var names []string
			for _, f := range m.Feet {
				if what.open(f) {
					names = append(names, f.Name)
				}
			}
			switch {
			case len(names) == len(m.Feet) && len(names) > 0:
				out = append(out, m.Name+", every foot: "+what.words)
			case len(names) > 0:
				out = append(out, m.Name+" "+strings.Join(names, ", ")+": "+what.words)
			}
		}
		if math.IsInf(m.Level.Pitch, 1) && math.IsInf(m.Level.Roll, 1) {
			out = append(out, m.Name+": how far from level it may stand")
		}
		if len(m.Nozzles) == 0 {
			out = append(out, m.Name+": whether pipes hold it, and how far they let it move")
		}
	}
	for i := range t.Machines {
		if words := ungrown(t, i); words != "" {
			out = append(out, t.Machines[i].Name+": "+words)
		}
	}
	for i := range t.Couplings {
		if c := &t.Couplings[i]; !c.GapLimited() {
			out = append(out, c.Name+": distance between shaft ends")
		}
	}
	if t.Errors == (train.Errors{}) {
		out = append(out, "how good the readings and the growth are ([errors])")
	} else if words := unstatedErrors(t.Errors); len(words) > 0 {
		out = append(out, "[errors], taken as none: "+strings.Join(words, ", "))
	}
	return out
}

// unstatedErrors names the errors that are none.
func unstatedErrors(e train.Errors) []string {
	var out []string
	for _, one := range []struct {
		size float64
		name string
	}{{e.Offset, "offset"}, {e.Angle, "angle"}, {e.Placing, "placing"}, {e.Growth, "growth"}} {
		if one.size == 0 {
			out = append(out, one.name)
		}
	}
	return out
}

// ungrown says what of machine i's growth is taken as none for want of a word;
// "" where nothing is.
func ungrown(t *train.Train, i int) string {
	m := &t.Machines[i]
	for _, s := range m.Shafts {
		if s.Growth != nil {
			return ""
		}
	}
	if m.Growth == (train.Growth{}) {
		return "growth from cold to running, taken as none"
	}
	for k := range t.Couplings {
		c := &t.Couplings[k]
		if m.Growth.A == (train.Line{}) && c.GapLimited() && (c.From.Machine == i || c.To.Machine == i) {
			return "growth along the train (a), taken as none"
		}
	}
	return ""
}
