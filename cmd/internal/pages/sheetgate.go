package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// mark stands behind what a coupling may be off by where the engineer decides.
const mark = " *"

// accepted is what a coupling may be off by after the moves, said once.
func (t *order) accepted(i int) string {
	w := &t.work.Couplings[i]
	text := t.offsetAngle(w)
	switch {
	case w.AcceptDials > 0 && w.EngineerDecides:
		text = t.dialsWithin(w, w.AcceptDials)
	case w.AcceptDials > 0:
		text = t.dialsWithin(w, w.AcceptDials-t.dialHalf(i))
	}
	if w.EngineerDecides {
		text += mark
	}
	return text
}

// acceptedOffset and acceptedAngle are it in figures, less what the printed numbers that they are about may be rounded
// by, and no finer than what is read: to the digits of a dial, and to 0.01 mrad.
func (t *order) acceptedOffset(w *view.WorkCoupling) words.Number {
	half := t.Units.Move() * math.Pow10(-t.FineDecimals) / 2
	if w.EngineerDecides {
		half = 0
	}
	return t.Down(w.AcceptOffset-half+view.Fair*t.Units.Move(), t.DialDigits())
}

func (t *order) acceptedAngle(w *view.WorkCoupling) words.Number {
	half := 0.0005
	if w.EngineerDecides {
		half = 0
	}
	return words.Floor(math.Max(0, w.AcceptAngle-half)+view.Fair, 2)
}

// dialHalf in mm is what the printed number of a dial of the coupling may be rounded by.
func (t *order) dialHalf(i int) float64 {
	return t.Units.Move() * math.Pow10(-t.Graduation(&t.Train.Couplings[i])) / 2
}

// dialsWithin says what instruments may be off by; at 6 a dial shows twice what it does at 3 and 9.
func (t *order) dialsWithin(w *view.WorkCoupling, mm float64) string {
	text := fmt.Sprintf("±%s %s", t.Down(mm+view.Fair*t.Units.Move(), t.DialDigits()), t.MoveUnit())
	for n := range w.Instruments {
		if w.Instruments[n].Kind != view.OffsetDial {
			return "dials " + text + ", at 6 twice that"
		}
	}
	return text
}

// afterStage is what a coupling may be off by after a stage: enough to tell a foot that went wrong.
func (t *order) afterStage(i int) string {
	w := &t.work.Couplings[i]
	if w.StageDials > 0 {
		return t.dialsWithin(w, w.StageDials-t.dialHalf(i))
	}
	return t.offsetAngle(w)
}

// repeated is what a coupling may be off by before anything is moved: reading it again tells no more.
func (t *order) repeated(i int) string {
	w := &t.work.Couplings[i]
	if len(w.Instruments) > 0 {
		return t.dialsWithin(w, w.Repeats)
	}
	return t.offsetAngle(w)
}

// repeatedAlike is it in brackets where it is the same for all couplings with instruments, else "".
func (t *order) repeatedAlike() string {
	same := ""
	for i := range t.work.Couplings {
		switch what := t.repeated(i); {
		case len(t.work.Couplings[i].Instruments) == 0:
		case same == "":
			same = what
		case same != what:
			return ""
		}
	}
	if same == "" {
		return ""
	}
	return " (" + same + ")"
}

// offsetAngle is what offset and angle may be off by.
func (t *order) offsetAngle(w *view.WorkCoupling) string {
	return fmt.Sprintf("±%s %s, ±%s mrad", t.acceptedOffset(w), t.MoveUnit(), t.acceptedAngle(w))
}

// endsWithin is what the distance between shaft ends may be off by, which should be so many mm; what its printed
// number is rounded by is taken off, and it is no finer than what ends are measured to.
func (t *order) endsWithin(w *view.WorkCoupling, mm float64) string {
	_, off := t.Apart(mm)
	n := t.ApartDown(w.Gap - off)
	if w.NoEndRoom || n.Zero() {
		return "no room: the engineer decides"
	}
	return "±" + words.With(n, t.LengthUnit())
}

// engineers are the couplings of which the engineer decides.
func (t *order) engineers() []int {
	var out []int
	for i := range t.work.Couplings {
		if t.work.Couplings[i].EngineerDecides {
			out = append(out, i)
		}
	}
	return out
}
