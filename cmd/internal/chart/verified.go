package chart

import (
	"math"
	"slices"

	"leastmove/cmd/internal/pages"
	facts "leastmove/cmd/internal/view"
	"leastmove/train"
)

// VerifiedTrain draws the train before and after the moves as it was read, from
// the right side and from above; nil where the plan does not say how the couplings
// stood when running.
func VerifiedTrain(r *facts.Verified) []Drawing {
	was := asItStood(r)
	if was == nil {
		return nil
	}
	c := course{before: was.Centrelines(was.Stay(), 0), after: r.Train.Centrelines(r.Train.Stay(), 0), apart: true}
	return append(views(r.Remaining, c, true), views(r.Remaining, c, false)...)
}

// asItStood is the train with its couplings as they stood before the moves; nil
// where the plan does not say.
func asItStood(r *facts.Verified) *train.Train {
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

// stated has the plan's own share of the limit that is used most in place of the one that follows from the plan's
// rounded misalignment; NaN: the plan does not say.
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

// VerifiedCouplings draws what every coupling took up of each of its limits before
// the moves, was to take up, and takes up now.
func VerifiedCouplings(r *facts.Verified) []Drawing {
	words := pages.WordsOf(r.Remaining)
	marks := []state{{spot: open, words: "before"}, {spot: cross, words: "planned"}, {spot: full, words: "after"}}
	var panels []panel
	for i := range r.Couplings {
		for k := range r.Couplings[i].Conditions {
			c := &r.Couplings[i].Conditions[k]
			times := [][]train.Use{
				stated(r.Train.Uses(i, k, c.Before.Misalignment, c.Before.Gap), c.UseBefore),
				stated(r.Train.Uses(i, k, c.Planned.Misalignment, c.Planned.Gap), c.UsePlanned), c.Now.Uses,
			}
			for u := range c.Now.Uses {
				t := target{words: words, coupling: i, condition: k, each: r.Train.Couplings[i].Limit.EachPlane, aim: r.Remaining.Aim}
				for n, m := range marks {
					if use := times[n][u]; !math.IsNaN(use.Share) {
						t.states = append(t.states, state{use, m.spot, m.words})
					}
				}
				if len(t.states) > 0 {
					panels = append(panels, t.draw)
				}
			}
		}
	}
	return targets(panels, marks)
}
