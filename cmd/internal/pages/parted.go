package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/train"
)

// parted says of a clash between one coupling's limits in two conditions what no move
// changes: how far growth and running shift take it from one to the other. "" for
// other clashes.
func (t *planText) parted() string {
	set := t.plan.Conflict
	if len(set) != 2 || set[0].Coupling < 0 || set[0].Coupling != set[1].Coupling || set[0].Kind != set[1].Kind || set[0].Condition == set[1].Condition {
		return ""
	}
	a, b := set[0].Limit, set[1].Limit
	states := t.plan.Found.Couplings[a.Coupling]
	most, sum := 0.0, 0.0
	for i, u := range states[a.Condition].Uses {
		if !isOf(u.Kind, a.Kind) {
			continue
		}
		w := states[b.Condition].Uses[i]
		by := math.Hypot(u.V-w.V, u.H-w.H)
		if t.Train.Couplings[a.Coupling].Limit.EachPlane {
			by = math.Max(math.Abs(u.V-w.V), math.Abs(u.H-w.H))
		}
		most, sum = math.Max(most, by), u.Limit+w.Limit
	}
	if most <= sum {
		return ""
	}
	return fmt.Sprintf("No move changes this: growth and running shift alone put %s between the %s of %s in %s and in %s (what is wanted counted), and the two limits together allow %s.",
		words.With(t.value(a.Kind, most), t.unit(a.Kind)), measure(a.Kind), t.Coupling(a.Coupling), t.Condition(a.Condition), t.Condition(b.Condition), words.With(t.value(a.Kind, sum), t.unit(a.Kind)))
}

// isOf says whether a coupling's limit of a kind is on a measure.
func isOf(k train.Kind, l optimize.LimitKind) bool {
	switch k {
	case train.Offset:
		return l == optimize.LimitOffset
	case train.Angle:
		return l == optimize.LimitAngle
	case train.Flex1, train.Flex2:
		return l == optimize.LimitFlex
	}
	return l == optimize.LimitGap
}
