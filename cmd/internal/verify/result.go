// Package verify sets what was read after the moves beside the plan that they
// were made by: before, planned and after at every coupling, what did not go as
// planned, and what is left to do.
//
//	plan (JSON) ─┬─▶ before, planned ─┐
//	             └─▶ moves ───────────┼─▶ diagnose.Judge ─▶ what did not go
//	AFTER.toml ────▶ readings now ────┘
//	           └───▶ optimize.Make ─────────────────▶ what is left to do
//
// The train file of after the moves describes the train as it stands now: the
// packs that lie under its feet now, the room that is left now.
package verify

import (
	"context"
	"fmt"
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// A Result is what became of the moves.
type Result struct {
	Train       *train.Train // as it stands now
	Moves       train.Moves  // that were planned
	Couplings   []Coupling   // one for each of the train's
	Verdict     *diagnose.Verdict
	Placing     float64        // mm, 95 % half-width that was reckoned with
	Assumed     []string       // errors that nothing states, in words
	Differences []string       // between the plan and the train file, in words
	UsedUp      []string       // what the plan used up of limits, that the train file has to say, in words
	Packs       Packs          // which packs the train file has
	Doubted     []Pack         // feet whose pack is neither
	Remaining   *optimize.Plan // from how the train stands now
}

// Packs says which packs the train file has under the feet that were moved.
type Packs int

const (
	PacksNew     Packs = iota // those that the plan leaves, or nothing says
	PacksOld                  // those from before the moves
	PacksNeither              // some are neither
)

// A Pack is one that the train file has as neither before nor after the moves.
type Pack struct {
	Machine, Foot int
	Is, Then      float64 // mm, in the file, and as the plan leaves it
}

// A Coupling is one coupling before, as planned and now.
type Coupling struct {
	Conditions           []Condition       // one for each of the train's
	Before, Planned, Now diagnose.Standing // cold and at standstill
}

// A Condition is a coupling in one condition. Uses are shares of a limit; NaN:
// the plan does not say.
type Condition struct {
	Before, Planned       diagnose.Standing
	UseBefore, UsePlanned float64
	Now                   train.Reading
}

// Met says whether every coupling is within all of its limits now.
func (r *Result) Met() bool { return r.Worst() <= 1+1e-6 }

// Worst is the largest share of a coupling limit that is taken up now.
func (r *Result) Worst() float64 {
	var worst float64
	for i := range r.Couplings {
		for k := range r.Couplings[i].Conditions {
			worst = math.Max(worst, r.Couplings[i].Conditions[k].Now.Worst())
		}
	}
	return worst
}

// Compare sets a train as it was read after the moves beside the plan. The error
// is one of the program; what is wrong with the plan is in the report.
func Compare(ctx context.Context, p *planjson.File, t *train.Train, opt optimize.Options) (*Result, planjson.Report, error) {
	if faults := p.Edited(); faults != nil {
		return nil, faults, nil
	}
	moves, faults := p.Moves(t)
	if faults != nil {
		return nil, faults, nil
	}
	couplings, faults := p.Of(t)
	if faults != nil {
		return nil, faults, nil
	}
	r := &Result{Train: t, Moves: moves}
	now := optimize.AtRest(t, t.Stay())
	c := &diagnose.Case{Train: t, Moves: moves}
	state := t.Check(t.Stay())
	for i, given := range couplings {
		r.Couplings = append(r.Couplings, r.coupling(i, p, given, diagnose.Standing{Misalignment: now[i].Misalignment, Gap: now[i].Gap}, state.Couplings[i]))
		k := &r.Couplings[i]
		e := diagnose.Coupling{Before: k.Before, Planned: k.Planned, Now: k.Now}
		e.Error, e.GapError = r.errors(i, p.HalfOf(given))
		c.Couplings = append(c.Couplings, e)
	}
	r.geometry(p, couplings)
	if faults := r.agree(couplings); faults != nil {
		return nil, faults, nil
	}
	r.Placing = r.placing()
	c.Placing = r.Placing / train.Half95
	r.packs(p)
	r.usedUp(p)
	var err error
	if r.Verdict, err = diagnose.Judge(c); err != nil {
		return nil, nil, fmt.Errorf("what was read could not be weighed: %w", err)
	}
	r.Remaining, err = optimize.Make(ctx, t, opt)
	return r, nil, err
}

// coupling puts one coupling together, all at the plane that it has now.
func (r *Result) coupling(i int, p *planjson.File, given *planjson.Coupling, now diagnose.Standing, state []train.Reading) Coupling {
	x, at := p.Length(given.X), r.Train.Couplings[i].X
	planned := moved(p.PoseOf(&given.Rest.Reading), x, at)
	out := Coupling{Planned: planned, Now: now, Before: none()}
	for k := range r.Train.Conditions {
		c := Condition{Before: none(), Planned: none(), UseBefore: math.NaN(), UsePlanned: math.NaN(), Now: state[k]}
		for n := range given.States {
			if s := &given.States[n]; s.Condition == r.Train.Conditions[k].Name {
				c.Before, c.Planned = moved(p.PoseOf(&s.Found), x, at), moved(p.PoseOf(s.Planned), x, at)
				c.UseBefore, c.UsePlanned = planjson.Value(s.Use.Found), planjson.Value(s.Use.Planned)
			}
		}
		if k == 0 {
			// What was found at rest is off what is planned there as it is when running.
			out.Before = plus(planned, c.Before, c.Planned)
		}
		out.Conditions = append(out.Conditions, c)
	}
	return out
}

// moved is a pose whose offsets are given at the station x, at another one.
func moved(s planjson.Pose, x, at float64) diagnose.Standing {
	out := diagnose.Standing{Misalignment: s.Misalignment, Gap: s.Gap}
	if !math.IsNaN(x) {
		out.V.Offset += out.V.Angle * (at - x) / 1000
		out.H.Offset += out.H.Angle * (at - x) / 1000
	}
	return out
}

// plus is a + b - c.
func plus(a, b, c diagnose.Standing) diagnose.Standing {
	tilt := func(a, b, c train.Tilt) train.Tilt {
		return train.Tilt{Offset: a.Offset + b.Offset - c.Offset, Angle: a.Angle + b.Angle - c.Angle}
	}
	return diagnose.Standing{
		Misalignment: train.Misalignment{V: tilt(a.V, b.V, c.V), H: tilt(a.H, b.H, c.H)},
		Gap:          a.Gap + b.Gap - c.Gap,
	}
}

func none() diagnose.Standing {
	t := train.Tilt{Offset: math.NaN(), Angle: math.NaN()}
	return diagnose.Standing{Misalignment: train.Misalignment{V: t, H: t}, Gap: math.NaN()}
}
