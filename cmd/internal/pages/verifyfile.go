package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// differ lists what to look at in the train file: where it differs from the plan,
// and what the plan used up where that does not stand beside what is left to do.
func (v *verified) differ() {
	items := v.differences()
	if v.r.Met() {
		items = append(items, v.usedUp()...)
		if bolts := v.boltsInDoubt(); bolts != "" {
			items = append(items, bolts)
		}
	}
	if len(items) > 0 {
		v.Heading("What to look at in the train file")
		v.Items(items...)
	}
}

// differences are those between the plan and the train file.
func (v *verified) differences() []string {
	var items []string
	for n := range v.r.Differences {
		items = append(items, words.Clean(v.difference(&v.r.Differences[n])))
	}
	for _, p := range v.r.Doubted {
		foot := v.Machine(p.Machine) + " " + v.Foot(p.Machine, p.Foot)
		what := ", which is neither what lay there before nor that"
		if v.r.Packs == view.PacksOld {
			what = ", what lay there before"
		}
		items = append(items, fmt.Sprintf("%s: the plan leaves a pack of %s, the file has %s%s", foot,
			words.With(v.Packed(p.Then), v.MoveUnit()), v.Packed(p.Is), what))
	}
	return items
}

// difference is one in words; names are as the file has them.
func (v *verified) difference(d *view.Difference) string {
	length := func(mm float64) string { return fmt.Sprintf("%.6g %s", mm/v.Units.Length(), v.Units) }
	m, c := &v.Train.Machines[d.Machine], &v.Train.Couplings[d.Coupling]
	switch d.Kind {
	case view.OtherFootX:
		return fmt.Sprintf("%s %s stands at x = %s, in the plan at %s", m.Name, m.Feet[d.Foot].Name, length(d.Is[0]),
			length(d.Planned[0]))
	case view.OtherFootY:
		return fmt.Sprintf("%s %s stands at y = %s, in the plan at %s", m.Name, m.Feet[d.Foot].Name, length(d.Is[0]),
			length(d.Planned[0]))
	case view.NewMachine:
		return fmt.Sprintf("machine %s is not in the plan", m.Name)
	case view.OtherPlane:
		return fmt.Sprintf("%s: the offsets are given at x = %s, in the plan at %s; what the plan says was carried over "+
			"along its angle", c.Name, length(d.Is[0]), length(d.Planned[0]))
	case view.OneHasFlex:
		return fmt.Sprintf("%s: it has flex planes in one of the two files only", c.Name)
	case view.OtherFlex:
		return fmt.Sprintf("%s: its flex planes are at %s and %s, in the plan at %s and %s", c.Name, length(d.Is[0]),
			length(d.Is[1]), length(d.Planned[0]), length(d.Planned[1]))
	case view.NewCondition:
		return fmt.Sprintf("%s: the plan does not have the condition %q", c.Name, v.Train.Conditions[d.Condition].Name)
	case view.OtherGrowth:
		return fmt.Sprintf("%s, %s: growth, journal shift or the share of it that was there is not that of the plan, so "+
			"what was found and planned can't be set beside what is now", c.Name, v.Train.Conditions[d.Condition].Name)
	}
	return fmt.Sprintf("%s: with the feet and planes of the train file the moves of the plan do not bring it to "+
		"where the plan says", c.Name)
}

// usedUp is what the plan used up, that the train file has to say.
func (v *verified) usedUp() []string {
	var items []string
	for n := range v.r.UsedUp {
		items = append(items, words.Clean(v.used(&v.r.UsedUp[n])))
	}
	return items
}

// boltsInDoubt names the feet whose bolts have to be measured; "" where none has.
func (v *verified) boltsInDoubt() string {
	var feet []string
	for _, d := range v.r.DoubtedBolt {
		feet = append(feet, v.Machine(d.Machine)+" "+v.FeetOf(d.Machine, d.Feet))
	}
	if feet == nil {
		return ""
	}
	return "measure where each bolt sits in its hole and state bolt_at: the file has it where the plan was to leave it, " +
		"and these feet may have gone otherwise: " + words.And(feet) + "."
}

// used is what was used of one limit, in words; names are as the file has them.
func (v *verified) used(u *view.UsedUp) string {
	const todo = "measure where they sit now and state bolt_at, unless the foot did not go"
	m := &v.Train.Machines[u.Machine]
	switch u.Kind {
	case view.UsedPitch, view.UsedRoll:
		way := "along the train"
		if u.Kind == view.UsedRoll {
			way = "across it"
		}
		return fmt.Sprintf("%s: the plan tilted it %s by %.3f mrad, and level.found in the file has %.3f as before: "+
			"state what the level shows now", m.Name, way, u.By, u.Found)
	case view.UsedNozzle:
		return fmt.Sprintf("%s, nozzle %s: the plan displaced it by %s %s, and the limit in the file counts from where "+
			"it is now: take off what is used up", m.Name, m.Nozzles[u.Nozzle].Name, v.hundredths(u.By), v.MoveUnit())
	case view.BoltsNearer:
		return fmt.Sprintf("%s: by bolt_at in the file bolts are nearer to the middle of their holes than the plan left "+
			"them, %s: %s", m.Name, v.usedFeet(u), todo)
	case view.BoltsUnsaid:
		return fmt.Sprintf("%s: the file has the bolts in the middle of their holes, and the plan moved the feet, %s: %s",
			m.Name, v.usedFeet(u), todo)
	}
	key := map[view.UsedUpKind]string{view.UsedLower: "lower", view.UsedRaise: "raise", view.UsedTravel: "travel"}[u.Kind]
	return fmt.Sprintf("%s: %s in the file is that of before the plan, %s: state what is left now", m.Name, key,
		v.usedFeet(u))
}

// hundredths is a length in mm in the unit of moves.
func (v *verified) hundredths(mm float64) string { return fmt.Sprintf("%.2f", mm/v.Units.Move()) }

// usedFeet says it of feet, those together of which the same is said.
func (v *verified) usedFeet(u *view.UsedUp) string {
	var groups []footGroup
	for n := range u.Feet {
		groups = grouped(groups, v.usedFoot(u.Kind, &u.Feet[n]), u.Feet[n].Foot)
	}
	var items []string
	for _, g := range groups {
		var names []string
		for _, f := range g.feet {
			names = append(names, v.Train.Machines[u.Machine].Feet[f].Name)
		}
		items = append(items, strings.Join(names, ", ")+" "+g.words)
	}
	return strings.Join(items, "; ")
}

func (v *verified) usedFoot(kind view.UsedUpKind, f *view.UsedFoot) string {
	is, used, of := v.hundredths(f.Is), v.hundredths(f.Used), v.hundredths(f.Of)
	switch kind {
	case view.BoltsNearer:
		return fmt.Sprintf("%s %s, by the plan %s of %s", is, v.MoveUnit(), used, of)
	case view.BoltsUnsaid:
		return fmt.Sprintf("by %s of %s %s", used, of, v.MoveUnit())
	}
	side := ""
	switch {
	case kind == view.UsedTravel && f.Right:
		side = "right "
	case kind == view.UsedTravel:
		side = "left "
	}
	return fmt.Sprintf("%s%s %s, of which the plan took %s", side, is, v.MoveUnit(), used)
}

// assumed are the errors that nothing states.
func (v *verified) assumed() []string {
	var items []string
	for _, a := range v.r.Assumed {
		items = append(items, map[view.Assumed]string{
			view.AssumedOffset: "of reading an offset", view.AssumedAngle: "of reading an angle",
			view.AssumedPlacing: "of placing a foot",
		}[a])
	}
	return items
}
