package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// softTold is the soft foot in mm from which on one that the packs leave is told: half
// of what a dial shows, 0.005 mm or 0.25 mil.
func (t *order) softTold() float64 { return t.dialStep() / 2 }

// dialStep is what a dial at a foot shows, in mm: 0.01 mm or 0.5 mil.
func (t *order) dialStep() float64 {
	if t.MoveUnit() == "mil" {
		return t.Units.Move() / 2
	}
	return 0.01
}

// softLeft is the soft foot in mm that the plan leaves at a foot, + its pack stands
// proud; 0 where that is less than is told.
func (t *order) softLeft(m, f int) float64 {
	soft := t.plan.Planned.Machines[m].Feet[f].Soft
	if math.Abs(soft) < t.softTold() {
		return 0
	}
	return soft
}

// softStop is what a foot may move by as its bolt is tightened, in mm, before the crew
// stops: what is a soft foot at any machine, and where the packs leave some on purpose
// no less than that and two steps of a dial. It is read twice, before and after, a
// step off each time, which leaves who did all right below the stop.
func (t *order) softStop(m, f int) float64 {
	return math.Max(optimize.SoftFoot(t.Units), math.Abs(t.softLeft(m, f))+2*t.dialStep())
}

// softNote says what soft foot the packs of a machine leave on purpose; "" for none.
func (t *order) softNote(m int) string {
	var groups []footGroup
	for f := range t.Train.Machines[m].Feet {
		if soft := t.softLeft(m, f); soft > 0 {
			groups = grouped(groups, string(t.softUp(soft))+" proud", f)
		} else if soft < 0 {
			groups = grouped(groups, string(t.softUp(soft))+" short", f)
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
	if stop, _ := t.stopAt(m); stop > optimize.SoftFoot(t.Units)*(1+words.Fair) {
		note += "; over " + string(t.softUp(stop)) + " at tightening: stop"
	}
	return note + "."
}

// stopAt is what the crew stops at, in mm, at any foot of a machine, and the soft foot
// that its packs leave.
func (t *order) stopAt(m int) (stop, left float64) {
	for f := range t.Train.Machines[m].Feet {
		stop, left = math.Max(stop, t.softStop(m, f)), math.Max(left, math.Abs(t.softLeft(m, f)))
	}
	return stop, left
}

// softStops says at which machines the stop is another one than usual, and why; ""
// for none.
func (t *order) softStops() string {
	var others []string
	for m := range t.Train.Machines {
		if stop, left := t.stopAt(m); stop > optimize.SoftFoot(t.Units)*(1+words.Fair) {
			others = append(others, fmt.Sprintf("%s: %s, as its packs leave up to %s", t.Machine(m), words.With(t.softUp(stop), t.MoveUnit()), t.softUp(left)))
		}
	}
	if others == nil {
		return ""
	}
	return " (" + strings.Join(others, "; ") + ")"
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
