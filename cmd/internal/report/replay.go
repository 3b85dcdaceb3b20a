package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"leastmove/optimize"
)

// Replay writes what moves do that someone gave.
func Replay(w io.Writer, r *optimize.Replayed, layout Page) error {
	t := &planText{page: page{width: layout.width()}, speaker: speakerFor(r.Plan), plan: r.Plan}
	t.paragraph("", t.title())
	t.blank()
	t.asked(layout)
	t.mark = marks(r.Plan, layout)
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
	t.stance()
	t.everyLimit()
	t.sure()
	t.unstated()
	t.doubts(layout)
	t.cautions("")
	_, err := t.WriteTo(w)
	return err
}

// replayed is the answer.
func (t *planText) replayed(r *optimize.Replayed) {
	weighted := ""
	if t.weighted() {
		weighted = fmt.Sprintf(" (%s with the file's weights)", t.total(r.Total))
	}
	t.paragraph("", fmt.Sprintf("The plan that was given moves %d of %s; total movement %s%s, largest move at a foot %s; the worst coupling ends at %s of a limit %s.",
		r.Moved, plural(len(t.t.Machines), "machine"), with(t.total(r.Plain), t.moveUnit()), weighted, with(t.moved(r.Peak), t.moveUnit()),
		percent(r.Reached), t.conditions()))
	switch {
	case !r.Holds():
		t.paragraph("", "IT DOES NOT HOLD: it breaks what is listed below.")
	case r.Reached > r.Aim*(1+fair):
		t.paragraph("", fmt.Sprintf("It keeps every limit that the file states, but not the aim of %s of the coupling limits.", percent(r.Aim)))
	default:
		t.paragraph("", "It keeps every limit that the file states, and the aim.")
	}
	if words := t.surely(r.Plan); words != "" {
		t.paragraph("", words)
	}
}

// breaks lists the limits that the moves break, and which one number would mend
// a coupling.
func (t *planText) breaks(r *optimize.Replayed) {
	if len(r.Broken) == 0 {
		return
	}
	t.heading("What it breaks")
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
		items = append(items, t.beyond(m.End, nil)+". "+t.remedy(m))
	}
	if n := t.couplingBreaches(r) - len(r.Remedies); n > 0 {
		items = append(items, fmt.Sprintf("and %s more of couplings", plural(n, "limit")))
	}
	t.list(items)
}

func (t *planText) couplingBreaches(r *optimize.Replayed) int {
	limits := map[optimize.Limit]bool{}
	for _, e := range r.Broken {
		if e.Coupling >= 0 {
			limits[e.Limit] = true
		}
	}
	return len(limits)
}

// breach is a limit of a machine that is broken, with the number that breaks it.
func (t *planText) breach(r *optimize.Replayed, e optimize.End, feet []int) string {
	words := t.beyond(e, feet)
	if e.Kind == optimize.LimitFlat {
		return fmt.Sprintf("%s: the packs leave %s of soft foot, and %s", t.footOf(e.Limit), with(t.offset(e.Value), t.moveUnit()), t.limitAlone(e.Limit))
	}
	if e.Foot < 0 {
		return words
	}
	move := r.Moves[e.Machine][e.Foot]
	switch e.Kind {
	case optimize.LimitLower, optimize.LimitRaise:
		return fmt.Sprintf("%s: %s, and %s", words, t.shim(move.Up), t.limitAlone(e.Limit))
	case optimize.LimitTravel:
		return fmt.Sprintf("%s: %s, and %s", words, t.side(move.Left), t.limitAlone(e.Limit))
	case optimize.LimitBolt:
		return fmt.Sprintf("%s: %s, and %s", words, t.side(move.Left), t.limitAlone(e.Limit))
	}
	return words
}

// remedy is the one number that would mend a coupling.
func (t *planText) remedy(m optimize.Remedy) string {
	if m.Machine < 0 {
		words := "No single number of the plan mends this."
		if s := m.Most; s.Machine >= 0 {
			say := t.shim
			if s.What == "left" {
				say = t.side
			}
			words += fmt.Sprintf(" Most of it is made by %s %s, %s: without that it would be %s.",
				t.machine(s.Machine), t.feetOf(s.Machine, s.Feet), say(s.Is), with(t.value(m.Kind, s.Without), t.unit(m.Kind)))
		}
		return words
	}
	say := t.shim
	if m.What == "left" {
		say = t.side
	}
	words := fmt.Sprintf("At %s %s, %s in place of %s would mend it", t.machine(m.Machine), t.feetOf(m.Machine, m.Feet), say(m.To), say(m.From))
	switch m.Left {
	case 0:
		return words + ", and nothing else is broken then."
	case 1:
		return words + "; 1 limit is broken still."
	}
	return fmt.Sprintf("%s; %d limits are broken still.", words, m.Left)
}

// misfits lists the numbers that can't be set as they are.
func (t *planText) misfits(r *optimize.Replayed) {
	if len(r.Misfits) == 0 {
		return
	}
	t.heading("Numbers that can't be set as they are")
	var items []string
	for _, m := range r.Misfits {
		items = append(items, t.misfit(m))
	}
	t.list(items)
}

func (t *planText) misfit(m optimize.Misfit) string {
	where := t.machine(m.Machine)
	if m.Foot >= 0 {
		where += " " + t.foot(m.Machine, m.Foot)
	}
	say := func(mm float64) string {
		switch m.What {
		case "up":
			return t.shim(mm)
		case "left":
			return t.side(mm)
		}
		return t.along(mm)
	}
	is := where + ": " + say(m.Is)
	switch m.Kind {
	case optimize.OffStep:
		step := t.t.Shims.Step
		if m.What != "up" {
			return fmt.Sprintf("%s is finer than a dial shows; %s can be set", is, say(m.Nearest))
		}
		return fmt.Sprintf("%s is no whole step of %s; %s is the nearest", is, with(t.moved(step), t.moveUnit()), say(m.Nearest))
	case optimize.TooLittle:
		return fmt.Sprintf("%s is less than the least move of the file (%s)", is, with(t.moved(t.t.Aim.LeastMove), t.moveUnit()))
	case optimize.LeftApart:
		return fmt.Sprintf("%s, but the machine is rigid: with its other feet as given it goes %s here", is, say(m.Nearest))
	case optimize.NoRoll:
		return fmt.Sprintf("%s, the other foot of the station %s: left and right may differ only where the file has roll = true", is, say(m.Nearest))
	case optimize.NoShift:
		return is + ", but the file does not have axial = true for this machine"
	case optimize.Unmakeable:
		return is + ": that pack can't be made of what the file lists"
	}
	return is
}

// beside sets the plan against the one that moves least.
func (t *planText) beside(r *optimize.Replayed) {
	b := r.Beside
	t.heading("Beside the plan that moves least")
	switch b.Status {
	case optimize.Planned, optimize.Within:
		least := t.total(b.Total)
		diff := t.total(math.Abs(r.Total - b.Total))
		words := fmt.Sprintf("leastmove plan has a total of %s; the one that was given ", with(least, t.moveUnit()))
		switch {
		case diff.zero():
			words += "has the same"
		case r.Total > b.Total:
			words += fmt.Sprintf("is %s above it", with(diff, t.moveUnit()))
		default:
			words += fmt.Sprintf("is %s below it", with(diff, t.moveUnit()))
		}
		if !r.Holds() || r.Reached > b.Kept*(1+fair) {
			words += ", and does not keep what that one keeps"
		}
		if b.Status == optimize.Within {
			words = "Nothing needs to move: as found every coupling is within its limits"
		}
		t.paragraph("", words+".")
		if n := t.bound(b.Bound); n != "" && b.Status == optimize.Planned {
			t.paragraph("", fmt.Sprintf("No plan that keeps %s of the limits has a smaller total than %s (proven).", percent(b.Kept), with(n, t.moveUnit())))
		}
	case optimize.Impossible:
		t.paragraph("", "There is no plan that keeps every limit (proven). leastmove plan says what clashes, and ways out.")
	default:
		t.paragraph("", "Whether there is a plan that keeps every limit was not found out.")
	}
}

// everyLimit is what is taken up of every limit that the file states.
func (t *planText) everyLimit() {
	t.heading("Every limit, and what is taken up of it")
	t.paragraph("", fmt.Sprintf("Past a limit is over 100 %%. Offsets and moves in %s, angles in mrad, distances between shaft ends in %s.", t.moveUnit(), t.lengthUnit()))
	g := grid{rows: [][]string{{"where", "limit", "takes up", "of", "share"}}, wraps: []bool{true, true, false, false, false}}
	for _, e := range distinct(t.plan.Limits()) {
		if e.Kind == optimize.LimitFlat && t.offset(e.Value).zero() {
			continue
		}
		where, what := t.footOfAny(e.Limit), ofLimit(e.Kind)
		share := "-"
		if e.Bound > 0 {
			share = percent(e.Value / e.Bound)
			if e.Value <= 0 {
				share = "0 %"
			}
		}
		g.rows = append(g.rows, []string{where, what, string(t.value(e.Kind, e.Value)), string(t.value(e.Kind, e.Bound)), share})
	}
	t.grid(g)
}

// ofLimit is what a limit speaks of, in a word or two.
func ofLimit(k optimize.LimitKind) string {
	switch k {
	case optimize.LimitLower:
		return "shims out"
	case optimize.LimitRaise:
		return "shims in"
	case optimize.LimitBolt:
		return "bolt in its hole"
	case optimize.LimitTravel:
		return "travel"
	case optimize.LimitFlat:
		return "soft foot"
	case optimize.LimitPitch:
		return "off level along"
	case optimize.LimitRoll:
		return "off level across"
	case optimize.LimitNozzle:
		return "displaced"
	}
	return measure(k)
}

// footOfAny names whose a limit is.
func (s speaker) footOfAny(l optimize.Limit) string {
	switch {
	case l.Coupling >= 0:
		return strings.Join([]string{s.coupling(l.Coupling), s.condition(l.Condition)}, ", ")
	case l.Nozzle >= 0:
		return s.machine(l.Machine) + ", nozzle " + s.nozzle(l.Machine, l.Nozzle)
	}
	return s.footOf(l)
}
