package train

import (
	"math"
	"slices"
)

// A Transient is the worst state of a coupling as the train warms up or cools down, between its conditions: each of its
// two machines at an end of its growth, journal shift all there or not at all.
type Transient struct {
	From, To Warmth  // of its two machines
	Run      float64 // share of the shafts' journal shift
	Reading          // against the limits as they are stated; what is wanted is not taken off
}

// A Warmth is how far a machine has grown.
type Warmth struct {
	Share float64 // of its growth; NaN: Own
	Own   string  // the condition whose own growth it has; "": a share of its growth
}

// Condition is condition k, or behind them the states of warm-up in which couplings must keep a share of their limits.
func (t *Train) Condition(k int) *Condition {
	if k < len(t.Conditions) {
		return &t.Conditions[k]
	}
	return &t.Between[k-len(t.Conditions)]
}

// States are how many there are of both.
func (t *Train) States() int { return len(t.Conditions) + len(t.Between) }

// Transients are those of the couplings after the moves, by true geometry.
func (t *Train) Transients(moves Moves) []Transient {
	between := *t
	between.Between = t.WarmUp()
	return between.Check(moves).Warm
}

// worstBetween is the state of warm-up in which coupling i uses most of a limit.
func (t *Train) worstBetween(i int, here *posed) Transient {
	var worst Transient
	c := &t.Couplings[i]
	for k := range t.Between {
		r := t.measure(i, len(t.Conditions)+k, here)
		if k == 0 || r.Worst() > worst.Worst() {
			s := &t.Between[k]
			worst = Transient{t.warmth(s, c.From.Machine), t.warmth(s, c.To.Machine), s.Run, r}
		}
	}
	return worst
}

// warmth is how far machine i has grown in a state.
func (t *Train) warmth(s *Condition, i int) Warmth {
	own := s.OwnGrowth(i)
	if own == nil {
		return Warmth{Share: s.Growth[i]}
	}
	k := slices.IndexFunc(t.Conditions, func(c Condition) bool {
		g := c.OwnGrowth(i)
		return g != nil && *g == *own
	})
	return Warmth{Share: math.NaN(), Own: t.Conditions[k].Name}
}

// WarmUp are the states between the conditions whose misalignments enclose all others: each two neighbours at every
// pair of ends of their growth, journal shift all there or not at all. A limit is convex, so that one which holds at
// the ends holds on every way from one to another.
func (t *Train) WarmUp() []Condition {
	ends, most := make([][]Share, len(t.Machines)), 0
	for i := range t.Machines {
		ends[i] = t.growthEnds(i)
		most = max(most, len(ends[i]))
	}
	var out []Condition
	for n := range 2 * most * most {
		c := Condition{Growth: make([]float64, len(t.Machines)), Run: float64(n % 2), Use: 1}
		for i := range c.Growth {
			// Neighbours have different places in n, so that each coupling has every pair of ends.
			place := n / 2 % most
			if i%2 == 1 {
				place = n / 2 / most
			}
			end := ends[i][min(place, len(ends[i])-1)]
			c.Growth[i] = end.Growth
			if end.Own != nil {
				c.Own = append(c.Own, OwnGrowth{i, *end.Own})
			}
		}
		out = append(out, c)
	}
	return out
}

// growthEnds are the lowest and the highest share of growth of machine i in any condition, cold and hot included, and
// all growth that a condition has of its own.
func (t *Train) growthEnds(i int) []Share {
	low, high := Share{}, Share{Growth: 1}
	var own []Share
	for k := range t.Conditions {
		c := &t.Conditions[k]
		if g := c.OwnGrowth(i); g != nil {
			if !slices.ContainsFunc(own, func(s Share) bool { return *s.Own == *g }) {
				own = append(own, Share{Own: g})
			}
			continue
		}
		low.Growth, high.Growth = min(low.Growth, c.Growth[i]), max(high.Growth, c.Growth[i])
	}
	return append([]Share{low, high}, own...)
}
