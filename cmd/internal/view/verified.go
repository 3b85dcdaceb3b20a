package view

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// A Verified is what became of a plan's moves: before, planned and after at every coupling, what
// did not go as planned, and what is left to do.
//
//	plan ──────────┬─▶ before, planned ─┐
//	               └─▶ moves ───────────┼─▶ diagnose.Judge ─▶ what did not go
//	AFTER.toml ────▶ readings now ──────┘
//	           └───▶ as by `leastmove plan` ──────────▶ what is left to do
//
// The train file of after the moves describes the train as it sits now: the shim packs that lie
// under its feet now, the room that is left now.
type Verified struct {
	Train       *train.Train // as it is now
	Moves       train.Moves  // that were planned, mm
	Couplings   []VerifiedCoupling
	Verdict     *diagnose.Verdict
	Placing     float64            // mm, 95 % half-width of placing a foot that was reckoned with
	Assumed     []diagnose.Assumed // errors that nothing states
	Differences []Difference       // between the plan and the train file
	UsedUp      []UsedUp           // what the plan used of limits, that the train file has to say
	Packs       Packs              // which shim packs the train file has
	Doubted     []DoubtedPack      // feet whose pack is not the one that the plan leaves
	DoubtedBolt []DoubtedBolts     // machines with feet whose bolts are not where the train file has them
	Remaining   *Plan              // from how the train is now
}

// A VerifiedCoupling is one coupling before, as planned and now.
type VerifiedCoupling struct {
	Conditions           []VerifiedState // one for each of the train's
	Before, Planned, Now Pose            // cold and at standstill
}

// A VerifiedState is a coupling in one condition.
type VerifiedState struct {
	Before, Planned       Pose
	UseBefore, UsePlanned float64 // share of the limit that is used most; NaN: the plan does not say
	ByBefore, ByPlanned   string  // that limit, as Governs names it; "": the plan does not say
	Now                   train.Reading
}

// Met says whether every coupling is within all of its limits now.
func (r *Verified) Met() bool { return r.Worst() <= 1+Fair }

// Worst is the largest share of a coupling limit that is used now; 1 is at the limit.
func (r *Verified) Worst() float64 {
	var worst float64
	for i := range r.Couplings {
		worst = math.Max(worst, r.Couplings[i].worst())
	}
	return worst
}

func (c *VerifiedCoupling) worst() float64 {
	var worst float64
	for k := range c.Conditions {
		worst = math.Max(worst, c.Conditions[k].Now.Worst())
	}
	return worst
}

// Outside is how many couplings are past a limit now, in one condition or more.
func (r *Verified) Outside() int {
	n := 0
	for i := range r.Couplings {
		if r.Couplings[i].worst() > 1+Fair {
			n++
		}
	}
	return n
}

// AimMissed says whether the limits are met, and the aim of the train file is not.
func (r *Verified) AimMissed() bool { return r.Met() && r.Worst() > r.Train.Aim.Use*(1+Fair) }

// After is how the coupling sits now.
func (s *VerifiedState) After() Pose {
	return Pose{Misalignment: s.Now.Misalignment, Gap: s.Now.Gap}
}

// Verify sets a train as it was read after the moves beside the plan that they were made by.
// Couplings are listed that the moves do not bring to where the plan says; nothing else is
// worked out then. The error is one of the program.
func Verify(ctx context.Context, p *GivenPlan, t *train.Train, opt optimize.Options) (*Verified, []int, error) {
	r := &Verified{Train: t, Moves: p.Moves}
	now := optimize.AtRest(t, t.Stay())
	c := &diagnose.Case{Train: t, Moves: p.Moves}
	state := t.Check(t.Stay())
	for i := range p.Couplings {
		g := &p.Couplings[i]
		rest := Pose{Misalignment: now[i].Misalignment, Gap: now[i].Gap}
		r.Couplings = append(r.Couplings, verifiedCoupling(g, t.Couplings[i].X, rest, state.Couplings[i]))
		k := &r.Couplings[i]
		e := diagnose.Coupling{Before: k.Before, Planned: k.Planned, Now: k.Now}
		after := unknownPose().Misalignment
		if fit := t.Couplings[i].Fit; fit != nil {
			after = fit.Half
		}
		var usual []diagnose.Assumed
		e.Error, e.GapError, usual = diagnose.Errors(t.Errors, g.Half, after)
		r.assume(usual...)
		c.Couplings = append(c.Couplings, e)
	}
	r.geometry(p)
	if odds := r.atOdds(); odds != nil {
		return nil, odds, nil
	}
	if r.Placing = t.Errors.Placing; r.Placing <= 0 {
		r.Placing = diagnose.UsualPlace
		r.assume(diagnose.AssumedPlacing)
	}
	c.Placing = r.Placing / train.Half95
	r.packs(p)
	r.usedUp(p)
	var err error
	if r.Verdict, err = diagnose.Judge(c); err != nil {
		return nil, nil, fmt.Errorf("what was read could not be weighed: %w", err)
	}
	r.explained()
	r.boltsDoubted(p)
	chance := AsFile(t, &opt, 0)
	left, err := (*Pools)(nil).Ask(ctx, r.placeable(), opt, chance, cmp.Or(t.Aim.Chance, UsualChance))
	if err != nil {
		return nil, nil, err
	}
	r.Remaining = Of(left.Plan)
	return r, nil, nil
}

// placeable is the train with moves no smaller than can be told from errors of placing, where the file states neither.
func (r *Verified) placeable() *train.Train {
	out := *r.Train
	if out.Aim.LeastMove == 0 {
		out.Aim.LeastPlaced = math.Max(out.Aim.LeastPlaced, train.LeastPlaced*r.Placing)
	}
	return &out
}

func (r *Verified) assume(what ...diagnose.Assumed) {
	for _, a := range what {
		if !slices.Contains(r.Assumed, a) {
			r.Assumed = append(r.Assumed, a)
		}
	}
}

// verifiedCoupling puts one coupling together, all at the plane at in mm that it has now.
func verifiedCoupling(g *GivenCoupling, at float64, now Pose, state []train.Reading) VerifiedCoupling {
	out := VerifiedCoupling{Planned: atStation(g.Rest, g.X, at), Now: now, Before: unknownPose()}
	for k := range g.States {
		s := &g.States[k]
		c := VerifiedState{
			Before: atStation(s.Found, g.X, at), Planned: atStation(s.Planned, g.X, at),
			UseBefore: s.UseFound, UsePlanned: s.UsePlanned, ByBefore: s.ByFound, ByPlanned: s.ByPlanned, Now: state[k],
		}
		if k == 0 {
			// What was found at rest is off what is planned there as it is when running.
			out.Before = plus(out.Planned, c.Before, c.Planned)
		}
		out.Conditions = append(out.Conditions, c)
	}
	return out
}

// atStation is a pose whose offsets are given at the train station x in mm, at another one.
func atStation(s Pose, x, at float64) Pose {
	if !math.IsNaN(x) {
		s.V.Offset += s.V.Angle * (at - x) / 1000
		s.H.Offset += s.H.Angle * (at - x) / 1000
	}
	return s
}

// plus is a + b - c.
func plus(a, b, c Pose) Pose {
	tilt := func(a, b, c train.Tilt) train.Tilt {
		return train.Tilt{Offset: a.Offset + b.Offset - c.Offset, Angle: a.Angle + b.Angle - c.Angle}
	}
	return Pose{
		Misalignment: train.Misalignment{V: tilt(a.V, b.V, c.V), H: tilt(a.H, b.H, c.H)},
		Gap:          a.Gap + b.Gap - c.Gap,
	}
}
