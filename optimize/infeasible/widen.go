package infeasible

import (
	"context"
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// widen is wider limits at one coupling: all of them by the same share, the
// least that can be shown to work, and then none by more than is needed.
func (m *search) widen(ctx context.Context, coupling int) *optimize.Relaxation {
	const percent, most = 0.01, 10
	l := lever{edit: optimize.Edit{Machine: -1, Foot: -1, Coupling: coupling, Key: "limit"}, cost: 1, most: most,
		step: percent}
	amounts, bound := m.relaxationOf(m.Plan.File, []lever{l}, 1).least()
	if amounts == nil {
		return nil
	}
	limit := m.Plan.File.Couplings[coupling].Limit
	try := func(share float64, but string) *optimize.Relaxation {
		r := &optimize.Relaxation{Kind: optimize.Widen, Cost: share, Least: bound}
		for _, kind := range [...]train.Kind{train.Offset, train.Angle, train.Gap} {
			key := kind.LimitKind().Info().Key
			if was := *limit.Of(kind); key != but && !math.IsInf(was, 1) && was > 0 {
				r.Edits = append(r.Edits, optimize.Edit{Machine: -1, Foot: -1, Coupling: coupling, Key: key, From: was,
					To: was * (1 + share)})
			}
		}
		if len(r.Edits) == 0 || !m.hopeful(optimize.Apply(m.Plan.File, r.Edits)) {
			return nil
		}
		return m.works(ctx, r, proving)
	}
	low := 0.0 // too little
	high := math.Max(rounded([]lever{l}, amounts)[0], percent)
	best := try(high, "")
	for best == nil && high < most {
		low, high = high, math.Min(most, percent*math.Ceil(1.5*high/percent))
		best = try(high, "")
	}
	if best == nil {
		return nil
	}
	for n := 0; n < 5 && high-low > 1.5*percent; n++ {
		middle := percent * math.Ceil((low+high)/2/percent)
		if r := try(middle, ""); r != nil {
			best, high = r, middle
		} else {
			low = middle
		}
	}
	for _, e := range best.Edits {
		if r := try(high, e.Key); r != nil {
			return r
		}
	}
	return best
}
