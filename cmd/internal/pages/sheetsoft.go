package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// softNote says what soft foot the packs of a machine leave on purpose; "" for none.
func (t *order) softNote(m int) string {
	var groups []footGroup
	w := &t.work.Machines[m]
	for f, soft := range w.Left {
		if soft > 0 {
			groups = grouped(groups, string(t.softUp(soft))+" too thick", f)
		} else if soft < 0 {
			groups = grouped(groups, string(t.softUp(soft))+" too thin", f)
		}
	}
	var parts []string
	for _, g := range groups {
		var numbers []string
		for _, f := range g.feet {
			numbers = append(numbers, t.number(m, f))
		}
		parts = append(parts, g.words+" at "+strings.Join(numbers, ", "))
	}
	if parts == nil {
		return ""
	}
	note := "Left soft on purpose, not to be shimmed: " + words.And(parts)
	if w.Other {
		note += " (tightening: " + string(t.softUp(w.Stop)) + " at most)"
	}
	return note + "."
}

// softStops says that the stop is another one at some machine, whose stage has it; "" where it is not.
func (t *order) softStops() string {
	for m := range t.work.Machines {
		if t.work.Machines[m].Other {
			return ", or than its stage says,"
		}
	}
	return ""
}

// softFirst is what a foot of a machine may be soft by before its stage: less where its packs leave some on purpose.
func (t *order) softFirst(m int) string {
	n := words.Floor(t.work.Machines[m].First/t.Units.Move()+view.Fair, t.DialDigits())
	return words.With(n, t.MoveUnit())
}

// softUp is a soft foot in mm without its sign, to what a dial shows and a digit more,
// rounded up.
func (t *order) softUp(mm float64) words.Number {
	return words.Ceil(math.Abs(mm)/t.Units.Move(), t.DialDigits())
}

// softKnown names the feet whose gaps the file has, for who measures them again.
func (t *order) softKnown() string {
	var feet []string
	for _, s := range t.plan.Soft {
		feet = append(feet, fmt.Sprintf("%s at %s %s", t.softUp(s.Gap), t.Machine(s.Machine), t.Foot(s.Machine, s.Foot)))
	}
	if feet == nil {
		return ""
	}
	return fmt.Sprintf(" Known, and no reason to stop, as the packs below count on it: %s.", words.And(feet))
}
