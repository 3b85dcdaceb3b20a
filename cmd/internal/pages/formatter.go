package pages

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// formatterFor is that of a plan's train.
func formatterFor(p *view.Plan) formatter {
	return formatter{formatterOf(p.Train).WithMoves(p.Moves)}
}

// A formatter says in words what is in a train and its plan.
type formatter struct{ words.Formatter }

func formatterOf(t *view.Train) formatter { return formatter{words.FormatterOf(t)} }

// spot names one foot, or a pair by its table with what is said of its two feet behind.
func (s formatter) spot(m int, feet []int, two string) string {
	if len(feet) == 2 {
		if table, pair := s.Pair(m, feet[0], feet[1]); pair {
			return table + two
		}
	}
	return s.FeetOf(m, feet)
}
