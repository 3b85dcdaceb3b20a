package train

// A Transient is the worst state of a coupling as the train warms up or cools down, between its conditions: each of its
// two machines at its lowest or highest share of growth, journal shift all there or not at all.
type Transient struct {
	From, To float64 // shares of growth of its two machines
	Run      float64 // share of the shafts' journal shift
	Reading
}

// Transients are those of the couplings after the moves, by true geometry and against the limits as they are stated.
// What is wanted is not taken off, as in any condition but the running one.
func (t *Train) Transients(moves Moves) []Transient {
	between := *t
	between.Conditions = nil
	low, high := t.growthEnds()
	// A machine at one end of its growth or at the other stands for what it is in between: a limit is convex.
	for n := range 8 {
		c := Condition{Growth: make([]float64, len(t.Machines)), Run: float64(n >> 2), Use: 1}
		for i := range c.Growth {
			// Neighbours have different places, so that each coupling has every pair of ends.
			c.Growth[i] = low[i]
			if n>>(i%2)&1 == 1 {
				c.Growth[i] = high[i]
			}
		}
		between.Conditions = append(between.Conditions, c)
	}
	// The first condition is what is aimed at when running.
	between.Conditions = append([]Condition{t.Conditions[0]}, between.Conditions...)
	state := between.Check(moves)
	out := make([]Transient, len(t.Couplings))
	for i, readings := range state.Couplings {
		worst := 1
		for k := 2; k < len(readings); k++ {
			if readings[k].Worst() > readings[worst].Worst() {
				worst = k
			}
		}
		c := &between.Conditions[worst]
		out[i] = Transient{c.Growth[t.Couplings[i].From.Machine], c.Growth[t.Couplings[i].To.Machine], c.Run, readings[worst]}
	}
	return out
}

// growthEnds are the lowest and the highest share of growth of each machine in any condition, cold and hot included.
func (t *Train) growthEnds() (low, high []float64) {
	low, high = make([]float64, len(t.Machines)), make([]float64, len(t.Machines))
	for i := range t.Machines {
		high[i] = 1
		for k := range t.Conditions {
			low[i], high[i] = min(low[i], t.Conditions[k].Growth[i]), max(high[i], t.Conditions[k].Growth[i])
		}
	}
	return low, high
}
