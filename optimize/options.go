package optimize

import (
	"context"
	"time"

	"leastmove/optimize/bnb"
	"leastmove/train"
)

// Options say how to plan. Zero values mean the defaults.
type Options struct {
	Use float64 // share of the coupling limits to keep; 0: the train file's aim
	Gap float64 // relative gap at which a total counts as least (default 0.001)
	// ParetoGap is the relative gap at which a point of a trade-off counts as found
	// (default 0.01).
	ParetoGap float64
	Solves    int  // most cone programs solved in one search; 0: by the size of the train
	Widen     bool // look for wider coupling limits as a relaxation too
	// Strategy is what to make least; "": the total.
	Strategy Strategy
	// Hold and Free name machines that may not be moved, and held ones that may,
	// whatever the train file says; Hold wins.
	Hold, Free []string
	// Brief leaves out shadow prices and relaxations, for those who only want
	// to know whether there is a plan: they take longer than all else.
	Brief bool
	// From is a plan of the same train with the same options but for Strategy and
	// Brief: its first search is not done again. It changes nothing else. nil: none.
	From *Plan
	// Start are moves from which searches begin, and which are the plan where nothing better is found and they keep
	// all limits; nil: none are known.
	Start train.Moves
	Tell  func(bnb.Progress) // called as the search goes; nil: not
	// First is called with the plan as soon as its moves are known, before anything is proven of them and before others
	// are looked for; it may be called again with a better one. nil: not.
	First func(*Plan)
	// Early is how long a search goes on before First is called with the best plan so far (Plan.SoFar), and from then on
	// with a better one whenever four times the time has passed; 0: it is called when the search has ended.
	Early time.Duration
	// Limit is how long the search may take; 0: as long as its work takes. A plan
	// that it cut may be another one on another machine; Plan.Cut then says so.
	Limit time.Duration
}

// Limited is a context that ends when the time of the options is up.
func (o *Options) Limited(ctx context.Context) (context.Context, context.CancelFunc) {
	if o.Limit > 0 {
		return context.WithTimeout(ctx, o.Limit)
	}
	return ctx, func() {}
}

// PartOfTime is a context that ends when a share of the time is up that a deadline leaves; without
// one nothing is shared.
func PartOfTime(ctx context.Context, share float64) (context.Context, context.CancelFunc) {
	end, timed := ctx.Deadline()
	if !timed {
		return ctx, func() {}
	}
	return context.WithTimeout(ctx, time.Duration(share*float64(time.Until(end))))
}
