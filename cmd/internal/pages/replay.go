package pages

import (
	"fmt"
	"io"
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Replay writes what moves do that someone gave.
func Replay(w io.Writer, r *view.Replayed, layout Page) error {
	t := &planText{page: page{width: layout.width()}, formatter: formatterFor(r.Plan), plan: r.Plan}
	t.Doc.Title = t.Title()
	t.Space()
	t.asked(layout)
	t.Mark = marks(r.Plan)
	t.provisional()
	t.replayed(r)
	t.soft()
	t.breaks(r)
	t.misfits(r)
	t.beside(r)
	t.moves()
	t.packs()
	t.rest()
	t.couplings("Couplings before and after", r.Found.Couplings, r.Planned.Couplings)
	t.position()
	t.everyLimit(r)
	t.sure()
	t.unstated()
	t.warnings(layout)
	t.cautions("")
	return t.Doc.Text(w, t.width)
}

// replayed is the answer.
func (t *planText) replayed(r *view.Replayed) {
	weighted := ""
	if t.weighted() {
		weighted = fmt.Sprintf(" (%s with the file's weights)", t.Total(r.Total))
	}
	t.Say(fmt.Sprintf("The plan that was given moves %d of %s; total movement %s%s, largest move at a foot %s; the "+
		"worst coupling ends at %s of a limit %s.",
		r.Moved, t.Count(), words.With(t.Total(r.Plain), t.MoveUnit()), weighted,
		words.With(t.Moved(r.Largest), t.MoveUnit()),
		words.Percent(r.Reached), t.Conditions()))
	switch {
	case !r.Holds:
		t.Say("IT DOES NOT HOLD: it breaks what is listed below.")
	case r.Missed:
		t.Say(fmt.Sprintf("It keeps every limit that the file states, but not the aim of %s of the coupling limits.",
			words.Percent(r.Aim)))
	default:
		t.Say("It keeps every limit that the file states, and the aim.")
	}
	if r.Holds {
		t.verdict()
	}
	if words := t.surely(r.Plan); words != "" && !(r.Holds && chanceJudged(r.Plan)) {
		t.Say(words)
	}
}

// breaks lists the limits that the moves break, and which one number would mend
// a coupling.
func (t *planText) breaks(r *view.Replayed) {
	if len(r.Broken) == 0 {
		return
	}
	t.Heading("What it breaks")
	var items []string
	for _, e := range r.Broken {
		if e.Coupling < 0 {
			var feet []int
			if e.Foot >= 0 {
				feet = []int{e.Foot}
			}
			items = append(items, t.breach(r, e, feet))
		}
	}
	for _, m := range r.Remedies {
		items = append(items, t.beyond(m.Constraint, nil)+". "+t.remedy(m))
	}
	if n := r.Further; n > 0 {
		items = append(items, fmt.Sprintf("and %s more of couplings", words.Plural(n, "limit")))
	}
	t.Items(items...)
}

// breach is a limit of a machine that is broken, with the number that breaks it.
func (t *planText) breach(r *view.Replayed, e view.Constraint, feet []int) string {
	if comes := words.PhrasesOf(e.Kind, e.Bound).Comes; comes != "" {
		return t.filled(comes, e) + ", and " + t.stated(e.Limit)
	}
	text := t.beyond(e, feet)
	switch e.Kind.Info().SetBy {
	case view.SetByUp:
		return fmt.Sprintf("%s: %s, and %s", text, t.Shim(r.Moves[e.Machine][e.Foot].Up), t.stated(e.Limit))
	case view.SetByLeft:
		return fmt.Sprintf("%s: %s, and %s", text, t.Side(r.Moves[e.Machine][e.Foot].Left), t.stated(e.Limit))
	}
	return text
}

// remedy is the one number that would mend a coupling.
func (t *planText) remedy(m view.Remedy) string {
	if m.Machine < 0 {
		text := "No single number of the plan mends this."
		if s := m.Most; s.Machine >= 0 && s.Without <= m.Value/2 {
			say := t.Shim
			if s.What == "left" {
				say = t.Side
			}
			text += fmt.Sprintf(" Most of it is made by %s %s, %s: without that it would be %s.",
				t.Machine(s.Machine), t.FeetOf(s.Machine, s.Feet), say(s.Is), t.withUnit(m.Kind, s.Without))
		}
		return text
	}
	say := t.Shim
	if m.What == "left" {
		say = t.Side
	}
	words := fmt.Sprintf("At %s %s, %s in place of %s would mend it", t.Machine(m.Machine), t.FeetOf(m.Machine, m.Feet),
		say(m.To), say(m.From))
	switch m.Left {
	case 0:
		return words + ", and nothing else is broken then."
	case 1:
		return words + "; 1 limit is broken still."
	}
	return fmt.Sprintf("%s; %d limits are broken still.", words, m.Left)
}

// misfits lists the numbers that can't be set as they are.
func (t *planText) misfits(r *view.Replayed) {
	if len(r.Misfits) == 0 {
		return
	}
	t.Heading("Numbers that can't be set as they are")
	var items []string
	for _, m := range r.Misfits {
		items = append(items, t.misfit(m))
	}
	t.Items(items...)
}

func (t formatter) misfit(m view.Misfit) string {
	where := t.Machine(m.Machine)
	if m.Foot >= 0 {
		where += " " + t.Foot(m.Machine, m.Foot)
	}
	say := func(mm float64) string {
		switch m.What {
		case "up":
			return t.Shim(mm)
		case "left":
			return t.Side(mm)
		}
		return t.Along(mm)
	}
	is := where + ": " + say(m.Is)
	switch m.Kind {
	case view.OffStep:
		step := t.Train.ShimsOf(m.Machine).Step
		if m.What != "up" {
			return fmt.Sprintf("%s is finer than a dial shows; %s can be set", is, say(m.Nearest))
		}
		return fmt.Sprintf("%s is no whole step of %s; %s is the nearest", is, words.With(t.Moved(step), t.MoveUnit()),
			say(m.Nearest))
	case view.TooLittle:
		return fmt.Sprintf("%s is less than the least move of the file (%s)", is,
			words.With(t.Moved(t.Train.Aim.Least(m.What == "up")), t.MoveUnit()))
	case view.LeftApart:
		return fmt.Sprintf("%s, but the machine is rigid: with its other feet as given it goes %s here", is, say(m.Nearest))
	case view.NoRoll:
		return fmt.Sprintf("%s, the other foot of the station %s: left and right may differ only where the file has "+
			"roll = true", is, say(m.Nearest))
	case view.NoShift:
		return is + ", but the file does not have axial = true for this machine"
	case view.Unmakeable:
		return is + ": that pack can't be made of what the file lists"
	}
	return is
}

// beside sets the plan against the one that moves least.
func (t *planText) beside(r *view.Replayed) {
	b := r.Beside
	t.Heading("Beside the plan that moves least")
	switch b.Status {
	case view.Planned, view.Within:
		least := t.Total(b.Total)
		diff := t.Total(math.Abs(r.Above))
		text := fmt.Sprintf("leastmove plan has a total of %s; the one that was given ", words.With(least, t.MoveUnit()))
		switch {
		case diff.Zero():
			text += "has the same"
		case r.Above > 0:
			text += fmt.Sprintf("is %s above it", words.With(diff, t.MoveUnit()))
		default:
			text += fmt.Sprintf("is %s below it", words.With(diff, t.MoveUnit()))
		}
		if r.Misses {
			text += ", and does not keep what that one keeps"
		}
		if b.Status == view.Within {
			text = "Nothing needs to move: as found every coupling is within its limits"
		}
		t.Say(text + ".")
		if n := t.Bound(b.Bound); n != "" && b.Status == view.Planned {
			t.Say(fmt.Sprintf("No plan that keeps %s of the limits has a smaller total than %s (proven).",
				words.Percent(b.Kept), words.With(n, t.MoveUnit())))
		}
	case view.Impossible:
		t.Say("There is no plan that keeps every limit (proven). leastmove plan says what is in conflict, and options.")
	default:
		t.Say("Whether there is a plan that keeps every limit was not found out.")
	}
}

// everyLimit is what is used of every limit that the file states.
func (t *planText) everyLimit(r *view.Replayed) {
	t.Heading("Every limit, and what is used of it")
	t.Say(fmt.Sprintf("Past a limit is over 100 %%. Offsets and moves in %s, angles in mrad, distances between shaft "+
		"ends in %s.", t.MoveUnit(), t.LengthUnit()))
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("where"), doc.Wide("limit"), doc.Fixed("uses"), doc.Fixed("of"),
		doc.Fixed("share"),
	}}
	for _, e := range view.Distinct(r.Limits) {
		if e.Kind == view.LimitFlat && t.Offset(e.Value).Zero() {
			continue
		}
		where, what := t.at(e.Limit), words.LimitName(e.Kind)
		share := "-"
		if e.Bound > 0 {
			share = words.Percent(e.Value / e.Bound)
			if e.Value <= 0 {
				share = "0 %"
			}
		}
		g.Add(where, what, string(t.Limit(e.Kind, e.Value)), string(t.Limit(e.Kind, e.Bound)), share)
	}
	t.Table(g)
}
