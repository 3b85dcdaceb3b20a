package pages

import (
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/train"
)

// formatterFor is that of a plan's train.
func formatterFor(p *optimize.Plan) formatter {
	s := formatterOf(p.Train)
	// Moves that someone gave need not be on whole steps.
	for _, feet := range p.Moves {
		for _, f := range feet {
			for _, mm := range [3]float64{f.Up, f.Left, f.Axial} {
				s.MoveDecimals = max(s.MoveDecimals, words.Decimals(mm/s.Units.Move(), s.MoveDecimals, words.MostDecimals))
			}
		}
	}
	return s
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
