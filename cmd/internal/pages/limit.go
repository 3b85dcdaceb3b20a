package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// ofCoupling says whether a limit is one of a coupling in a condition.
func ofCoupling(k view.LimitKind) bool {
	switch k {
	case view.LimitOffset, view.LimitAngle, view.LimitFlex, view.LimitGap:
		return true
	}
	return false
}

// measure is what a coupling's limit speaks of.
func measure(k view.LimitKind) string {
	switch k {
	case view.LimitFlex:
		return "angle at a flex plane"
	case view.LimitGap:
		return "distance between shaft ends"
	}
	return string(k)
}

// value is a value of a limit's kind, in the units of the train file.
func (n formatter) value(k view.LimitKind, v float64) words.Number {
	switch k {
	case view.LimitAngle, view.LimitFlex, view.LimitPitch, view.LimitRoll:
		return n.Angle(v)
	case view.LimitGap:
		return n.Length(v)
	case view.LimitLower, view.LimitRaise:
		v /= n.Units.Move()
		return words.Fixed(v, words.Decimals(v, n.MoveDecimals, max(n.MoveDecimals, n.FineDecimals)))
	}
	return n.Offset(v)
}

// unit is that of a limit's kind.
func (n formatter) unit(k view.LimitKind) string {
	switch k {
	case view.LimitAngle, view.LimitFlex, view.LimitPitch, view.LimitRoll:
		return "mrad"
	case view.LimitGap:
		return n.LengthUnit()
	}
	return n.MoveUnit()
}

// end is a limit that the plan takes up (almost) whole, in words.
func (s formatter) end(p *view.Plan, e view.Constraint) string {
	of := func() string {
		return fmt.Sprintf("%s of %s", s.value(e.Kind, e.Value), words.With(s.value(e.Kind, e.Bound), s.unit(e.Kind)))
	}
	if ofCoupling(e.Kind) {
		may, takes := words.Percent(math.Max(p.Aim, p.Reached)), words.Percent(e.Value/e.Bound)
		words := fmt.Sprintf("%s, %s: %s takes up %s (%s)", s.Coupling(e.Coupling), s.Condition(e.Condition), measure(e.Kind), of(), takes)
		if takes == may {
			return words + ", all that the plan may use"
		}
		return words + "; the plan may use " + may
	}
	if e.Foot < 0 || e.Machine < 0 {
		switch e.Kind {
		case view.LimitPitch:
			return fmt.Sprintf("%s: as far off level along the train as it may stand (%s)", s.Machine(e.Machine), of())
		case view.LimitRoll:
			return fmt.Sprintf("%s: as far off level across the train as it may stand (%s)", s.Machine(e.Machine), of())
		case view.LimitNozzle:
			return fmt.Sprintf("%s, nozzle %s: displaced as far as it may be (%s)", s.Machine(e.Machine), s.Nozzle(e.Machine, e.Nozzle), of())
		}
		return s.limit(e.Limit)
	}
	foot := s.Machine(e.Machine) + " " + s.Foot(e.Machine, e.Foot)
	room := &p.Rooms[e.Machine][e.Foot]
	toward := "left"
	if room.Right < room.Left {
		toward = "right"
	}
	switch e.Kind {
	case view.LimitLower:
		if e.Bound < 0 {
			return fmt.Sprintf("%s: raised by no more than the pack needs (%s)", foot, words.With(s.Moved(-e.Value), s.MoveUnit()))
		}
		return fmt.Sprintf("%s is base-bound: %s of the %s of shims that may come out",
			foot, s.value(e.Kind, e.Value), words.With(s.value(e.Kind, e.Bound), s.unit(e.Kind)))
	case view.LimitRaise:
		return fmt.Sprintf("%s: no more may be added (%s)", foot, of()) + s.lessFill(e.Limit)
	case view.LimitBolt:
		return fmt.Sprintf("%s is bolt-bound to the %s (%s)", foot, toward, of())
	case view.LimitTravel:
		return fmt.Sprintf("%s is at the end of its travel to the %s (%s)", foot, toward, of())
	case view.LimitFlat:
		return fmt.Sprintf("%s: as much soft foot as the packs may leave (%s)", foot, of())
	}
	return s.limit(e.Limit)
}

// limit is a limit of the train file, in words with its number.
func (s formatter) limit(l view.Limit) string {
	most := func(v float64) string { return words.With(s.value(l.Kind, v), s.unit(l.Kind)) }
	if ofCoupling(l.Kind) {
		limit := s.Train.Couplings[l.Coupling].Limit
		bound := limit.Angle
		switch l.Kind {
		case view.LimitOffset:
			bound = limit.Offset
		case view.LimitGap:
			bound = limit.Gap
		}
		what := measure(l.Kind)
		if l.Kind == view.LimitGap {
			what += " off what is wanted"
		}
		return fmt.Sprintf("%s, %s: %s at most %s", s.Coupling(l.Coupling), s.Condition(l.Condition),
			what, most(bound*s.Train.Conditions[l.Condition].Use))
	}
	if words := s.lattice(l.Kind); words != "" {
		if l.Machine >= 0 {
			words = s.footOf(l) + ": " + words
		}
		return words
	}
	switch {
	case l.Machine < 0:
		return string(l.Kind)
	case l.Kind == view.LimitNozzle && l.Nozzle >= 0:
		return fmt.Sprintf("%s, nozzle %s: displaced by at most %s", s.Machine(l.Machine), s.Nozzle(l.Machine, l.Nozzle),
			most(s.Train.Machines[l.Machine].Nozzles[l.Nozzle].Limit))
	case l.Kind == view.LimitPitch:
		return fmt.Sprintf("%s: off level along the train by at most %s", s.Machine(l.Machine), most(s.Train.Machines[l.Machine].Level.Pitch))
	case l.Kind == view.LimitRoll:
		return fmt.Sprintf("%s: off level across the train by at most %s", s.Machine(l.Machine), most(s.Train.Machines[l.Machine].Level.Roll))
	case l.Foot < 0:
		return s.Machine(l.Machine) + ": " + string(l.Kind)
	}
	return s.footOf(l) + ": " + s.limitAlone(l)
}

// lattice is a limit that leaves only some sizes of moves; "" for others.
func (s formatter) lattice(k view.LimitKind) string {
	switch k {
	case view.LimitSteps:
		return fmt.Sprintf("shims change in whole steps of %s, and other moves are set as finely as a dial shows", words.With(s.Moved(s.Train.Shims.Step), s.MoveUnit()))
	case view.LimitStock:
		from, most := "the stock", ""
		if len(s.Train.Shims.Stock) == 0 {
			from = "the usual stock"
		}
		if n := s.Train.Shims.MaxPieces; n > 0 {
			most = ", of " + words.Plural(n, "piece") + " at most"
		}
		return fmt.Sprintf("packs are made from %s%s: not every thickness that is needed can be made", from, most)
	case view.LimitLeast:
		return fmt.Sprintf("what is moved at a foot moves by at least %s, or not at all", words.With(s.Moved(s.Train.Aim.LeastMove), s.MoveUnit()))
	}
	return ""
}

// limitAlone is a limit of a foot, in words without the foot's name; "" for
// other limits.
func (s formatter) limitAlone(l view.Limit) string {
	if l.Machine < 0 || l.Foot < 0 {
		return ""
	}
	most := func(v float64) string { return words.With(s.value(l.Kind, v), s.unit(l.Kind)) }
	foot := s.Train.Machines[l.Machine].Feet[l.Foot]
	switch l.Kind {
	case view.LimitLower:
		if foot.Lower < 0 {
			return fmt.Sprintf("at least %s of shims must go in", most(-foot.Lower))
		}
		return fmt.Sprintf("at most %s of shims may come out", most(foot.Lower))
	case view.LimitRaise:
		return fmt.Sprintf("at most %s of shims may go in", most(foot.Raise)) + s.lessFill(l)
	case view.LimitBolt:
		return fmt.Sprintf("the bolt leaves at most %s each way from the hole's centre", most((foot.Hole-foot.Bolt)/2))
	case view.LimitTravel:
		return "travel " + s.travel(foot)
	case view.LimitFlat:
		return "soft foot at most " + most(s.Train.Shims.Flat)
	}
	return string(l.Kind)
}

// lessFill says that a limit of what may go in is less than the file has it.
func (s formatter) lessFill(l view.Limit) string {
	if s.Moved(s.Train.Machines[l.Machine].Feet[l.Foot].Filled).Zero() {
		return ""
	}
	return " (less what fills the gap under it)"
}

// footOf names the machine of a limit, and the foot where it has one.
func (s formatter) footOf(l view.Limit) string {
	if l.Foot < 0 {
		return s.Machine(l.Machine)
	}
	return s.Machine(l.Machine) + " " + s.Foot(l.Machine, l.Foot)
}

// travel is what the foot may move to each side.
func (s formatter) travel(f view.Foot) string {
	var parts []string
	if n := s.Offset(f.TravelLeft); n != "" {
		parts = append(parts, "left at most "+words.With(n, s.MoveUnit()))
	}
	if n := s.Offset(f.TravelRight); n != "" {
		parts = append(parts, "right at most "+words.With(n, s.MoveUnit()))
	}
	return strings.Join(parts, ", ")
}

// stands says where a foot that nobody has moved is at its end already.
func stands(room *view.FootRoom) []string {
	var words []string
	if room.BaseBound {
		words = append(words, "base-bound")
	}
	for _, side := range []struct {
		name            string
		bound, noTravel bool
	}{{"left", room.BoundLeft, room.NoTravelLeft}, {"right", room.BoundRight, room.NoTravelRight}} {
		switch {
		case !side.bound:
		case side.noTravel:
			words = append(words, "no travel to the "+side.name)
		default:
			words = append(words, "bolt-bound to the "+side.name)
		}
	}
	return words
}
