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
