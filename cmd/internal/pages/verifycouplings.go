package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// triple are before, planned and after of every coupling.
func (v *verified) triple() {
	v.Heading("Before, planned and after")
	v.Say(v.offsetsAtX())
	for i := range v.Train.Couplings {
		c := &v.Train.Couplings[i]
		var tables []doc.Table
		for k := range v.Train.Conditions {
			tables = append(tables, v.tripleOf(i, &v.r.Couplings[i].Conditions[k]))
		}
		v.Space()
		v.byState(v.formatter, v.against(i)+v.planes(c)+v.wanted(c), tables)
	}
}

// tripleOf is one coupling in one condition.
func (v *verified) tripleOf(coupling int, s *view.VerifiedState) doc.Table {
	g := doc.Table{Columns: []doc.Column{doc.Wide(""), doc.Fixed("before"), doc.Fixed("planned"), doc.Fixed("after")},
		Joint: ", "}
	now := s.After()
	by := func(limit string, each ...string) string {
		switch limit {
		case view.AddedUp:
			return strings.Join(append([]string{limit}, each...), "\n")
		case view.Gap.String():
			return "shaft ends"
		case "":
			return "not known"
		}
		return words.Clean(limit)
	}
	g.Add("of its limit", v.taken(s.UseBefore), v.taken(s.UsePlanned), v.taken(s.Now.Worst()))
	g.Add("governed by", by(s.ByBefore), by(s.ByPlanned), by(view.Governs(&s.Now), eachShare(&s.Now)...))
	row := func(name string, of func(view.Pose) string) {
		g.Add(name, of(s.Before), of(s.Planned), of(now))
	}
	row("up and down", func(a view.Pose) string {
		return v.tell(v.Offset, a.V.Offset, "%s high", "%s low") + "\n" + v.tell(v.Angle, a.V.Angle, "slopes up %s",
			"slopes down %s")
	})
	row("sideways", func(a view.Pose) string {
		return v.tell(v.Offset, a.H.Offset, "%s left", "%s right") + "\n" + v.tell(v.Angle, a.H.Angle, "points left %s",
			"points right %s")
	})
	if f, stated := view.FaceOf(v.Train, coupling, &now.Misalignment); stated {
		row("gap on "+v.gapAcross(f)+", wider by", func(a view.Pose) string {
			if math.IsNaN(a.V.Angle) || math.IsNaN(a.H.Angle) {
				return "not known"
			}
			f, _ := view.FaceOf(v.Train, coupling, &a.Misalignment)
			top, left := v.gapSides(f)
			return top + "\n" + left
		})
	}
	if !math.IsNaN(now.Gap) {
		row("shaft ends", func(a view.Pose) string { return v.tell(v.Length, a.Gap, "%s", "%s") })
	}
	return g
}

// taken is a share of a limit in a narrow column.
func (v *verified) taken(use float64) string {
	if math.IsNaN(use) {
		return "not known"
	}
	if use > 1+words.Fair {
		return words.Percent(use) + ", outside"
	}
	return words.Percent(use)
}

func (v *verified) tell(print func(float64) words.Number, x float64, plus, minus string) string {
	if math.IsNaN(x) {
		return "not known"
	}
	return words.Signed(print, x, plus, minus)
}

// offPlan is what every coupling is off the plan, beside what errors make.
func (v *verified) offPlan() {
	v.Heading("Off the plan, cold and at rest")
	v.Say(fmt.Sprintf("After less planned, and what errors of reading (before and after) and of placing make in 95 "+
		"of 100 trains. Offsets in %s, angles in mrad.", v.MoveUnit()))
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("coupling"), doc.Fixed("what"), doc.Fixed("off by"), doc.Fixed("errors"),
		doc.Fixed(""),
	}, Names: 2}
	for _, o := range v.r.OffPlan() {
		more := ""
		if o.More {
			more = "more"
		}
		what, off, half := v.partOff(o)
		g.Add(v.Coupling(o.Coupling), what, off, "± "+half, more)
	}
	v.Table(g)
}

// partOff names a part of a coupling, and says what it is off by and what errors make of it.
func (v *verified) partOff(o view.OffPlan) (what, off, half string) {
	say := func(what string, print func(float64) words.Number, plus, minus string) (string, string, string) {
		return what, words.Signed(print, o.Off, plus, minus), string(print(o.Half))
	}
	switch o.Part {
	case view.OffsetV:
		return say("offset, up and down", v.Offset, "%s high", "%s low")
	case view.AngleV:
		return say("angle, up and down", v.Angle, "slopes up %s", "slopes down %s")
	case view.OffsetH:
		return say("offset, sideways", v.Offset, "%s left", "%s right")
	case view.AngleH:
		return say("angle, sideways", v.Angle, "points left %s", "points right %s")
	}
	return say("shaft ends", v.Length, "%s wider", "%s closer")
}

// motions is how the machines went, as far as the couplings tell.
func (v *verified) motions() {
	v.Heading("How the machines went, as far as the couplings tell")
	if v.r.Stays() {
		v.Say("The plan moved nothing.")
		return
	}
	v.Say(fmt.Sprintf("In %s, up and down and then sideways: planned, and what the readings make most likely, with "+
		"what that may be off in 95 of 100. Couplings see machines against each other: where errors of placing are all "+
		"that is known of a foot, the planned move stands.", v.MoveUnit()))
	if w := v.r.Verdict; len(w.Suspects) > 0 {
		v.Say("Worked out as if " + v.place(&w.Suspects[0].Fault) + " were what went otherwise.")
	}
	brief := func(head, brief string) doc.Column { return doc.Column{Head: head, Brief: brief} }
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("station"),
		brief("up and down, planned", "planned"), brief("up and down, went", "went"),
		brief("sideways, planned", "planned"), brief("sideways, went", "went"),
	}, Names: 2, Grouped: true}
	short := func(n float64, plus, minus string) string { return words.Signed(v.Offset, n, plus+" %s", minus+" %s") }
	for i := range v.r.Verdict.Machines {
		if !v.r.Moves.Moved(i) {
			continue
		}
		for _, s := range v.r.Verdict.Machines[i].Stations {
			g.Add(
				v.Machine(i), v.station(i, s.Feet),
				short(s.PlannedUp, "up", "down"), short(s.Up, "up", "down")+" ± "+string(v.Offset(s.HalfUp)),
				short(s.PlannedLeft, "left", "right"), short(s.Left, "left", "right")+" ± "+string(v.Offset(s.HalfLeft)),
			)
		}
	}
	v.Table(g)
}

// station names a foot station: a pair by its table.
func (v *verified) station(i int, feet []int) string {
	if len(feet) == 2 {
		if table, pair := v.Pair(i, feet[0], feet[1]); pair {
			return table
		}
	}
	return v.FeetOf(i, feet)
}
