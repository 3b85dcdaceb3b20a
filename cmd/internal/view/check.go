package view

// A Check is a train as it was found.
type Check struct {
	Train   *Train
	Found   State
	Outside int          // couplings outside a limit in one condition or more
	Worst   float64      // largest share of a coupling limit that is used
	Rooms   [][]FootRoom // [machine][foot]
	Soft    []SoftFoot   // measured gaps; nothing fills them yet
	Cold    []Reading    // by coupling: what to read cold for what is wanted when running
}

// CheckOf are the facts of a train as it was found.
func CheckOf(t *Train) *Check {
	found := t.Check(t.Stay())
	out := &Check{Train: t, Found: found, Worst: found.Worst(), Rooms: roomsOf(t, nil), Soft: softFound(t), Cold: t.Cold()}
	for _, conditions := range found.Couplings {
		for k := range conditions {
			if conditions[k].Worst() > 1+Fair {
				out.Outside++
				break
			}
		}
	}
	return out
}
