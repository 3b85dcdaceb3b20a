package view

// A Check is a train as it was found.
type Check struct {
	Train    *Train
	Found    State
	Outside  int             // couplings outside a limit in one condition or more
	Worst    float64         // largest share of a coupling limit that is used
	Rooms    [][]FootRoom    // [machine][foot]
	Soft     []SoftFoot      // measured gaps; nothing fills them yet
	Readings []*CouplingRead // of each coupling; nil: it has none
	Survey   *Survey         // nil: there is none
	Cold     []Reading       // by coupling: what to read cold for what is wanted when running
	Back     ReadBack        // what the file says, to confirm
	Bound    []BoundFoot     // feet that are at their end before any move
}

// CheckOf are the facts of a train as it was found.
func CheckOf(t *Train) *Check {
	found := t.Check(t.Stay())
	out := &Check{Train: t, Found: found, Worst: found.Worst(), Rooms: roomsOf(t, nil), Soft: softFound(t), Cold: t.Cold(),
		Readings: readingsOf(t), Survey: surveyOf(t)}
	out.Back, out.Bound = readBackOf(t, found.Couplings), boundFeet(out.Rooms)
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

// A BoundFoot is a foot that is at its end before any move.
type BoundFoot struct{ Machine, Foot int }

// boundFeet are those in the order of the file.
func boundFeet(rooms [][]FootRoom) []BoundFoot {
	var out []BoundFoot
	for i := range rooms {
		for f := range rooms[i] {
			if r := &rooms[i][f]; r.BaseBound || r.BoundLeft || r.BoundRight {
				out = append(out, BoundFoot{i, f})
			}
		}
	}
	return out
}
