package view

import (
	"context"
	"math"

	"leastmove/optimize/ways"
	"leastmove/train"
)

// A Replayed is what moves do that someone gave, beside the plan of the least total.
type Replayed struct {
	*Plan
	Holds    bool // the moves keep every limit and every rule of the file
	Misfits  []Misfit
	Remedies []Remedy
	Limits   []Constraint // every stated limit with what is used of it
	Beside   *Plan        // of the least total
	Above    float64      // mm, by how much the total is above that of Beside; below 0: it is below; NaN: there is none
	Misses   bool         // what Beside keeps is not kept
	Further  int          // limits of couplings that are broken, beyond those of Remedies
}

// Replay says what moves do that someone gave.
func Replay(ctx context.Context, t *train.Train, moves train.Moves, opt Options) (*Replayed, error) {
	r, err := ways.Replay(ctx, t, moves, opt)
	if err != nil {
		return nil, err
	}
	return OfReplayed(r), nil
}

// OfReplayed are the facts of such moves.
func OfReplayed(r *ways.Replayed) *Replayed {
	out := &Replayed{
		Plan: Of(r.Plan), Holds: r.Holds(), Misfits: r.Misfits, Remedies: r.Remedies,
		Beside: Of(r.Beside), Above: math.NaN(),
	}
	for _, l := range r.Plan.Limits() {
		out.Limits = append(out.Limits, l.Constraint)
	}
	switch r.Beside.Status {
	case Planned, Within:
		out.Above = r.Total - r.Beside.Total
	}
	out.Misses = !out.Holds || r.Reached > r.Beside.Kept*(1+Fair)
	limits := map[Limit]bool{}
	for _, e := range r.Broken {
		if e.Coupling >= 0 {
			limits[e.Limit] = true
		}
	}
	out.Further = len(limits) - len(r.Remedies)
	return out
}
