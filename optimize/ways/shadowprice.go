package ways

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// shadowPrices works out what the limits cost a plan at a use: by the multipliers of
// the problem without whole steps, which say for every change of a limit how
// much the total can fall at most, and by solving anew with each limit wider
// and closer. The soft foot that packs may leave is not among them: it is the
// crew's to set.
func shadowPrices(ctx context.Context, m *optimize.Solver, use float64) []optimize.ShadowPrice {
	goal := mip.Goal{Use: use}
	base := bnb.Relax(ctx, &m.Model.Problem, goal)
	if base.X == nil || base.Proof == nil || base.Proof.Certificate == nil {
		return nil
	}
	var out []optimize.ShadowPrice
	seen := map[optimize.Limit]bool{}
	for _, s := range m.Plan.Limits() {
		if ctx.Err() != nil {
			break
		}
		feet := m.Model.Together(s.Limit)
		if len(feet) > 0 {
			s.Foot = feet[0]
		}
		if seen[s.Limit] || s.Kind == train.LimitFlat || s.Kind == train.LimitSum || s.Kind == train.LimitWarm {
			continue
		}
		seen[s.Limit] = true
		w := optimize.ShadowPrice{Constraint: s.Constraint, Feet: feet, Price: shadowPrice(m.Model, s.Limit, feet, use,
			base.Proof.Certificate.Pull)}
		if w.Price < leastPrice {
			continue
		}
		w.By = usual(m.Plan.Train, w.Constraint)
		out = append(out, w)
	}
	slices.SortStableFunc(out, func(a, b optimize.ShadowPrice) int { return cmp.Compare(b.Price*b.By, a.Price*a.By) })
	out = out[:min(len(out), mostPrices)]
	proven := make([]bool, len(out))
	_ = atOnce(len(out), func(n int) error {
		proven[n] = ctx.Err() == nil && solveAnew(ctx, m, &out[n], use, base)
		return nil
	})
	known := out[:0]
	for n, w := range out {
		if proven[n] {
			known = append(known, w)
		}
	}
	return known
}

const (
	// leastPrice is the price below which a limit costs nothing worth saying.
	leastPrice = 1e-6
	// mostPrices is how many limits are solved anew for at most.
	mostPrices = 40
)

// solveAnew solves anew with the limit wider and closer, near it in a very long train; false where what it says of a
// wider limit is not proven. base is the optimum with the limit as it is.
func solveAnew(ctx context.Context, m *optimize.Solver, w *optimize.ShadowPrice, use float64, base bnb.Relaxed) bool {
	t, goal := m.Plan.Train, mip.Goal{Use: use}
	from, to := m.Model.Blocks(w.Limit)
	w.Closer = math.Inf(1)
	wide := optimize.Build(widened(w, t, w.By), m.Linearization)
	wider := bnb.RelaxNear(ctx, &wide.Problem, goal, base, from, to)
	if !optimize.Verified(ctx, &wide.Problem, wider.Claim, wider.Proof) {
		return false
	}
	w.AtMost = m.Plan.Least - wider.Bound
	w.Wider = math.Max(0, base.Bound-wider.Bound)
	near := optimize.Build(widened(w, t, -w.By), m.Linearization)
	if closer := bnb.RelaxNear(ctx, &near.Problem, goal, base, from, to); closer.X != nil {
		w.Closer = math.Max(0, closer.Bound-base.Bound)
	}
	return true
}

// usual is a change of a limit that is worth looking at, in mm or mrad: what a
// shop or a crew would do, a tenth of a coupling's limit.
func usual(t *train.Train, e optimize.Constraint) float64 {
	switch e.Kind {
	case train.LimitBolt:
		if t.Units == train.Inches {
			return train.Inch / 64
		}
		return 0.5
	case train.LimitLower, train.LimitRaise:
		if s := t.ShimsOf(e.Machine); !s.Stepless {
			return s.Step
		}
		return 5 * t.Units.Resolution()
	case train.LimitTravel, train.LimitShift:
		return 10 * t.Units.Resolution()
	}
	return math.Max(e.Bound/10, 1e-4)
}

// widened is the train with the limit wider by so much, closer where by is
// negative. A coupling's limit changes in every condition.
func widened(w *optimize.ShadowPrice, t *train.Train, by float64) *train.Train {
	out := optimize.Apply(t, nil)
	if w.Coupling >= 0 {
		by /= t.Conditions[w.Condition].Use
	}
	feet := w.Feet
	if len(feet) == 0 {
		feet = []int{w.Foot}
	}
	for _, f := range feet {
		at, least := w.Limit, 0.0
		at.Foot = f
		switch w.Kind {
		case train.LimitLower, train.LimitRaise:
			least = math.Inf(-1) // so much must go in, or come out
		case train.LimitBolt:
			least = out.Machines[w.Machine].Feet[f].Bolt
		}
		for _, x := range w.Kind.Info().Fields(out, at.Place()) {
			*x = math.Max(least, *x+by)
		}
	}
	return out
}

// shadowPrice is how much the total falls per mm or mrad that the limit is wider.
func shadowPrice(k *optimize.Model, l optimize.Limit, feet []int, use float64, pull []float64) float64 {
	at := make([]int, len(k.Problem.Limits)+1)
	for i := range k.Problem.Limits {
		at[i+1] = at[i] + len(k.Problem.Limits[i].Rows)
	}
	var sum float64
	for i, label := range k.Labels {
		rate := k.Widening
		switch {
		case label.Kind == train.LimitBolt && slices.Contains(feet, label.Foot):
			label.Foot, label.Condition = l.Foot, l.Condition // of a hole cold and hot
			rate /= 2                                         // of the hole's diameter
		case k.Problem.Limits[i].Shared:
			rate *= use
		}
		if label == l {
			sum += rate * length(pull[at[i]:at[i+1]])
		}
	}
	ends := l
	if l.Kind == train.LimitBolt {
		ends.Kind = train.LimitTravel // the hole is in the ends of a side move too
	}
	v := k.Variable(ends)
	if v < 0 {
		return sum
	}
	// y is what the limits multiply the variable by.
	x := k.Problem.Vars[v]
	var y float64
	for i := range k.Problem.Limits {
		for r, row := range k.Problem.Limits[i].Rows {
			for _, t := range row.Terms {
				if t.Var == v {
					y += pull[at[i]+r] * t.Coefficient
				}
			}
		}
	}
	// The term weight |x| + y x at an end of the range, one unit further out.
	low := x.Weight - y // of going down below zero
	if x.Lo > 0 {
		low = -x.Weight - y
	}
	high := x.Weight + y
	if x.Hi < 0 {
		high = -x.Weight + y
	}
	low, high = math.Max(0, -low), math.Max(0, -high)
	switch l.Kind {
	case train.LimitLower:
		return low
	case train.LimitRaise:
		return high
	case train.LimitShift:
		return low + high // of one of them at most
	}
	var hole, travel float64 // what each has of the two ends
	for _, f := range k.Groups[v].Feet {
		foot := &k.Train.Machines[l.Machine].Feet[f]
		if x.Lo > -foot.TravelRight {
			hole = math.Max(hole, low)
		} else {
			travel = math.Max(travel, low)
		}
		if x.Hi < foot.TravelLeft {
			hole = math.Max(hole, high)
		} else {
			travel = math.Max(travel, high)
		}
	}
	if l.Kind == train.LimitBolt {
		return sum + hole/2
	}
	return travel
}

func length(u []float64) float64 {
	var square float64
	for _, x := range u {
		square += x * x
	}
	return math.Sqrt(square)
}
