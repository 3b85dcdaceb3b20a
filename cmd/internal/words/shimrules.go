package words

import "strings"

// Stepless says what is under a machine on chocks or wedges; "" for one on shims.
func (w Formatter) Stepless(i int) string {
	if !w.Train.ShimsOf(i).Stepless {
		return ""
	}
	return w.Machine(i) + " is on chocks or wedges: what is said of its shims is their height, to any size"
}

// Steps is the finest change of shims: that of the train, and of machines that have their own.
func (w Formatter) Steps() string {
	text := With(w.Moved(w.Train.Shims.Step), w.MoveUnit())
	var own []string
	for i := range w.Train.Machines {
		if m := &w.Train.Machines[i]; m.Shims.Step > 0 && m.Shims.Step != w.Train.Shims.Step {
			own = append(own, w.Machine(i)+" "+With(w.Moved(m.Shims.Step), w.MoveUnit()))
		}
	}
	if own == nil {
		return text
	}
	return text + " (" + strings.Join(own, ", ") + ")"
}
