package view

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// Figures are what figures show of it. The course of the shafts is left out where
// the plan does not say how the couplings were when running.
func (r *Verified) Figures() *Figures {
	f := &Figures{
		Train: r.Remaining.Train, Planned: r.Remaining.Status == optimize.Planned, Moves: r.Remaining.Moves,
		Aim:   r.Remaining.Aim,
		Times: []Time{Before, AsPlanned, After}, Went: r.went(),
	}
	if was := asItStood(r); was != nil {
		f.Course = Course{Before: was.Centrelines(was.Stay(), 0), After: r.Train.Centrelines(r.Train.Stay(), 0), Apart: true}
	}
	for i := range r.Couplings {
		for k := range r.Couplings[i].Conditions {
			c := &r.Couplings[i].Conditions[k]
			limit := &r.Train.Couplings[i].Limit
			times := [][]train.Use{
				r.Train.Uses(i, k, c.Before.Misalignment, c.Before.Gap),
				r.Train.Uses(i, k, c.Planned.Misalignment, c.Planned.Gap), c.Now.Uses,
			}
			for n, share := range [2]float64{c.UseBefore, c.UsePlanned} {
				if limit.Combined {
					times[n] = append(times[n], sumUse(r.Train, k, share))
				} else {
					times[n] = stated(times[n], share)
				}
			}
			if limit.Combined {
				times[2] = append(slices.Clone(times[2]), sumUse(r.Train, k, c.Now.Sum))
			}
			for u := range times[2] {
				l := LimitOverTime{Coupling: i, Condition: k, Sum: u >= len(c.Now.Uses)}
				for n, time := range f.Times {
					if use := times[n][u]; !math.IsNaN(use.Share) {
						l.Uses = append(l.Uses, TimeUse{time, use})
					}
				}
				if len(l.Uses) > 0 {
					f.Limits = append(f.Limits, l)
				}
			}
		}
	}
	return f
}

// went are the stations of the machines that were moved, and of those that are suspected.
func (r *Verified) went() []WentStation {
	if r.Verdict == nil {
		return nil
	}
	var out []WentStation
	for i, m := range r.Verdict.Machines {
		for _, s := range m.Stations {
			w := WentStation{Machine: i, Feet: s.Feet, Sent: [2]float64{s.PlannedUp, s.PlannedLeft},
				Went: [2]float64{s.Up, s.Left}, Half: [2]float64{s.HalfUp, s.HalfLeft}}
			for _, k := range r.Verdict.Suspects {
				here := slices.ContainsFunc(k.Feet, func(f int) bool { return slices.Contains(s.Feet, f) })
				w.Suspect = w.Suspect || k.Coupling < 0 && k.Machine == i && (k.Feet == nil || here)
			}
			if w.Suspect || r.Moves.Moved(i) {
				out = append(out, w)
			}
		}
	}
	return out
}

// stated has the plan's own share of the limit that is used most in place of the one that follows
// from the plan's rounded misalignment; NaN: the plan does not say.
func stated(uses []train.Use, share float64) []train.Use {
	most := 0
	for n := range uses {
		if uses[n].Share > uses[most].Share {
			most = n
		}
	}
	if len(uses) > 0 && !math.IsNaN(share) {
		uses[most].Share = share
	}
	return uses
}

// asItStood is the train with its couplings as they were before the moves; nil
// where the plan does not say.
func asItStood(r *Verified) *train.Train {
	was := *r.Train
	was.Couplings = slices.Clone(r.Train.Couplings)
	for i := range was.Couplings {
		now, before := &r.Couplings[i].Conditions[0].Now, &r.Couplings[i].Conditions[0].Before
		if math.IsNaN(before.V.Offset) {
			return nil
		}
		// What was found was off what was found now as it was when running.
		found := &was.Couplings[i].Found
		found.V.Offset += before.V.Offset - now.V.Offset
		found.V.Angle += before.V.Angle - now.V.Angle
		found.H.Offset += before.H.Offset - now.H.Offset
		found.H.Angle += before.H.Angle - now.H.Angle
	}
	return &was
}
