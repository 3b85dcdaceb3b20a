package pages

import (
	"math"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// at names whose a limit is.
func (s formatter) at(l view.Limit) string {
	switch {
	case l.Coupling >= 0 && l.Condition < 0:
		return s.Coupling(l.Coupling) + ", in warm-up"
	case l.Coupling >= 0:
		return s.Coupling(l.Coupling) + ", " + s.Condition(l.Condition)
	case l.Nozzle >= 0:
		return s.Machine(l.Machine) + ", nozzle " + s.Nozzle(l.Machine, l.Nozzle)
	case l.Foot >= 0:
		return s.Machine(l.Machine) + " " + s.Foot(l.Machine, l.Foot) + s.hot(l)
	}
	return s.Machine(l.Machine)
}

// hot says in which condition a foot's limit is looked at; "" where it holds cold.
func (s formatter) hot(l view.Limit) string {
	if l.Coupling >= 0 || l.Condition < 0 {
		return ""
	}
	return " (" + s.Condition(l.Condition) + ")"
}

// withUnit is a value of a limit's kind with its unit.
func (s formatter) withUnit(k view.LimitKind, v float64) string {
	return words.With(s.Limit(k, v), s.LimitUnit(k))
}

// filled is a phrase of a limit that has a value and a bound.
func (s formatter) filled(phrase string, e view.Constraint, blanks ...string) string {
	value, bound := e.Value, e.Bound
	if words.PhrasesOf(e.Kind, bound).Demand {
		value, bound = -value, -bound
	}
	return words.Fill(phrase, append(blanks, "{at}", s.at(e.Limit), "{value}", string(s.Limit(e.Kind, value)),
		"{bound}", s.withUnit(e.Kind, bound), "{unit}", s.LimitUnit(e.Kind), "{share}", words.Percent(value/bound))...)
}

// end is a limit that the plan uses (almost) whole, in words.
func (s formatter) end(p *view.Plan, e view.Constraint) string {
	phrases := words.PhrasesOf(e.Kind, e.Bound)
	side := "left"
	if e.Foot >= 0 {
		if room := &p.Rooms[e.Machine][e.Foot]; room.Right < room.Left {
			side = "right"
		}
	}
	text := s.filled(phrases.AtEnd, e, "{side}", side) + s.lessFill(phrases, e.Limit)
	if e.Coupling < 0 || e.Condition < 0 {
		return text
	}
	may := words.Percent(math.Max(p.Aim, p.Reached))
	if words.Percent(e.Value/e.Bound) == may {
		return text + ", all that the plan may use"
	}
	return text + "; the plan may use " + may
}

// limit is a limit of the train file, in words with its number.
func (s formatter) limit(l view.Limit) string {
	if l.Machine < 0 && l.Coupling < 0 {
		return s.stated(l)
	}
	return s.at(l) + ": " + s.stated(l)
}

// phrases are those of a limit of the train file, with its bounds.
func (s formatter) phrases(l view.Limit) (*words.LimitPhrases, []float64) {
	bounds := l.Bounds(s.Train)
	if bounds == nil {
		return words.PhrasesOf(l.Kind, 0), nil
	}
	return words.PhrasesOf(l.Kind, bounds[0]), bounds
}

// stated is a limit of the train file, in words with its number, without whose it is.
func (s formatter) stated(l view.Limit) string {
	phrases, bounds := s.phrases(l)
	var bound string
	var sides []string
	for i, v := range bounds {
		if phrases.Demand {
			v = -v
		}
		bound = s.withUnit(l.Kind, v)
		if !math.IsInf(v, 1) {
			sides = append(sides, [...]string{"left", "right"}[i]+" at most "+bound)
		}
	}
	if l.Kind == view.LimitSteps {
		bound = s.Steps()
	}
	return words.Fill(phrases.Stated, "{bound}", bound, "{sides}", strings.Join(sides, ", "), "{stock}", s.stock()) +
		s.lessFill(phrases, l)
}

// stock is what packs are made of.
func (s formatter) stock() string {
	from := "the stock"
	if len(s.Train.Shims.Stock) == 0 {
		from = "the usual stock"
	}
	if n := s.Train.Shims.MaxPieces; n > 0 {
		from += ", of " + words.Plural(n, "piece") + " at most"
	}
	return from
}

// lessFill says that a limit of what may go in is less than the file has it.
func (s formatter) lessFill(phrases *words.LimitPhrases, l view.Limit) string {
	if phrases.Filled == "" || s.Moved(s.Train.Machines[l.Machine].Feet[l.Foot].Filled).Zero() {
		return ""
	}
	return phrases.Filled
}
