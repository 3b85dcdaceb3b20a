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
		parts = append(parts, g.words+" at "+t.FeetOf(m, g.feet))
	}
	if parts == nil {
		return ""
	}
	note := "Soft foot left on purpose, do not shim it away: packs are " + words.And(parts)
	if w.Other {
		note += "; over " + string(t.softUp(w.Stop)) + " at tightening: stop"
	}
	return note + "."
}

// softStops says at which machines the stop is another one than usual, and why; ""
// for none.
func (t *order) softStops() string {
	var others []string
	for m := range t.work.Machines {
		if w := &t.work.Machines[m]; w.Other {
			others = append(others, fmt.Sprintf("%s: %s, as its packs leave up to %s", t.Machine(m),
				words.With(t.softUp(w.Stop), t.MoveUnit()), t.softUp(w.Most)))
		}
	}
	if others == nil {
		return ""
	}
	return " (" + strings.Join(others, "; ") + ")"
}

// softFirst says at which machines less soft foot will do before the moves, and why; "" for none.
func (t *order) softFirst() string {
	var fewer []string
	for m := range t.work.Machines {
		if w := &t.work.Machines[m]; w.Fewer && len(w.Left) > 0 && !t.Train.Machines[m].Hold {
			fewer = append(fewer, fmt.Sprintf("%s: %s, as its packs will leave up to %s", t.Machine(m),
				words.With(words.Floor(w.First/t.Units.Move()+view.Fair, t.DialDigits()), t.MoveUnit()), t.softUp(w.Most)))
		}
	}
	if fewer == nil {
		return ""
	}
	return " (" + strings.Join(fewer, "; ") + ")"
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
	return fmt.Sprintf(" Known, and in the packs below: %s.", words.And(feet))
}
