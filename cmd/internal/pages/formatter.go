package pages

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// formatterFor is that of a plan's train.
func formatterFor(p *view.Plan) formatter {
	return formatter{formatterOf(p.Train).WithMoves(p.Moves)}
}

// worst is the use that takes up most of its limit.
func worst(r *train.Reading) train.Use {
	var most train.Use
	for i, u := range r.Uses {
		if i == 0 || u.Share > most.Share {
			most = u
		}
	}
	return most
}

// A formatter says in words what is in a train and its plan.
type formatter struct{ words.Formatter }

func formatterOf(t *train.Train) formatter { return formatter{words.FormatterOf(t)} }
