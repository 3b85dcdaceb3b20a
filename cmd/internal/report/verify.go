package report

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/verify"
	"leastmove/optimize"
	"leastmove/optimize/after"
	"leastmove/train"
)

// A piece is a part of a page: what every form of it shows.
type piece struct {
	heading string
	words   []string // sentences
	items   []string // a list
	table   *grid
	small   bool // the words come after the rest
}

// A verified is the page of what was read after the moves.
type verified struct {
	speaker
	r *verify.Result
}

// pieces are the page, part by part.
func (v *verified) pieces(layout Page) []piece {
	pieces := []piece{v.answer()}
	pieces = append(pieces, v.suspects())
	pieces = append(pieces, v.triple()...)
	pieces = append(pieces, v.offPlan(), v.motions())
	if b := v.differences(); len(b.items) > 0 {
		pieces = append(pieces, b)
	}
	pieces = append(pieces, v.remaining()...)
	if len(layout.Doubts) > 0 {
		b := piece{heading: "What is doubtful in the file"}
		for _, f := range layout.Doubts {
			b.items = append(b.items, fmt.Sprintf("line %d: %s", f.Line, clean(f.Message)))
		}
		pieces = append(pieces, b)
	}
	if !v.r.Met() {
		pieces = append(pieces, piece{words: cautions()})
	}
	return pieces
}

// cautions are those for who moves a machine.
func cautions() []string {
	return []string{
		"Lock out and tag out. Mind guards, lifting, stored heat and pressure, torque; turn shafts by hand only once nothing can start them.",
		"Read every coupling again after the moves. Site rules and makers' manuals first.",
	}
}

// answer says whether limits are met, and whether the moves were made as planned.
func (v *verified) answer() piece {
	outside := 0
	for i := range v.r.Couplings {
		for k := range v.r.Couplings[i].Conditions {
			if v.r.Couplings[i].Conditions[k].Now.Worst() > 1+fair {
				outside++
				break
			}
		}
	}
	n := len(v.t.Couplings)
	words := fmt.Sprintf("The limits are met: as read after the moves, every coupling is within them %s; the worst takes up %s.", v.conditions(), percent(v.r.Worst()))
	if !v.r.Met() {
		verb := "are"
		if outside == 1 {
			verb = "is"
		}
		words = fmt.Sprintf("THE LIMITS ARE NOT MET: as read after the moves, %d of %s %s outside them in one condition or more; the worst takes up %s.", outside, plural(n, "coupling"), verb, percent(v.r.Worst()))
	}
	b := piece{words: []string{words}}
	switch {
	case !v.r.Verdict.Off:
		b.words = append(b.words, "The moves went as planned, as far as errors of placing and reading let the couplings tell.")
	case len(v.r.Verdict.Suspects) == 0:
		b.words = append(b.words, "Something did not go as planned: what was read is further off the plan than errors explain, and no single fault explains it either.")
	default:
		words := "Something did not go as planned; most likely: " + v.places(v.r.Verdict.Suspects)
		if !v.r.Verdict.Enough {
			words += ", but that alone does not explain it"
		}
		b.words = append(b.words, words+".")
	}
	if v.r.Met() && v.r.Worst() > v.t.Aim.Use*(1+fair) {
		b.words = append(b.words, fmt.Sprintf("The aim of %s of the limits is not reached; that by itself asks for no further move.", percent(v.t.Aim.Use)))
	}
	if v.r.Packs == verify.PacksOld {
		b.words = append(b.words, "NOTE: the packs in the train file are those from before the moves. State what lies under the feet now: the room that the feet have is reckoned from it.")
	}
	return b
}

// triple are before, planned and after of every coupling.
func (v *verified) triple() []piece {
	out := []piece{{
		heading: "Before, planned and after",
		words:   []string{fmt.Sprintf("Offsets in %s, angles in mrad; how the shaft named first stands against the other at x, in train stations (%s).", v.moveUnit(), v.lengthUnit())},
	}}
	for i := range v.t.Couplings {
		c := &v.t.Couplings[i]
		g := &grid{wraps: []bool{true, false, false, false}}
		for k := range v.t.Conditions {
			if k > 0 {
				g.rows = append(g.rows, make([]string, 4))
			}
			s := &v.r.Couplings[i].Conditions[k]
			now := after.Standing{Misalignment: s.Now.Misalignment, Gap: s.Now.Gap}
			g.rows = append(g.rows, []string{v.condition(k), "before", "planned", "after"})
			g.rows = append(g.rows, []string{"of its limit", v.taken(s.UseBefore), v.taken(s.UsePlanned), v.taken(s.Now.Worst())})
			w := worst(&s.Now)
			by := w.Kind.String()
			if w.Kind == train.Gap {
				by = "shaft ends"
			}
			g.rows = append(g.rows, []string{"taken up by", "", "", by})
			all := []after.Standing{s.Before, s.Planned, now}
			row := func(name string, of func(after.Standing) string) {
				cells := []string{name}
				for _, a := range all {
					cells = append(cells, of(a))
				}
				g.rows = append(g.rows, cells)
			}
			row("up and down", func(a after.Standing) string { return v.tell(v.offset, a.V.Offset, "%s high", "%s low") })
			row("", func(a after.Standing) string { return v.tell(v.angle, a.V.Angle, "climbs %s", "falls %s") })
			row("sideways", func(a after.Standing) string { return v.tell(v.offset, a.H.Offset, "%s left", "%s right") })
			row("", func(a after.Standing) string {
				return v.tell(v.angle, a.H.Angle, "turns left %s", "turns right %s")
			})
			if !math.IsNaN(now.Gap) {
				row("shaft ends", func(a after.Standing) string { return v.tell(v.length, a.Gap, "%s", "%s") })
			}
		}
		out = append(out, piece{words: []string{v.against(i) + v.planes(c) + v.wanted(c)}, table: g})
	}
	return out
}

// taken is a share of a limit in a narrow column.
func (v *verified) taken(use float64) string {
	if math.IsNaN(use) {
		return "not known"
	}
	if use > 1+fair {
		return percent(use) + ", outside"
	}
	return percent(use)
}

func (v *verified) tell(print func(float64) number, x float64, plus, minus string) string {
	if math.IsNaN(x) {
		return "not known"
	}
	return signed(print, x, plus, minus)
}

// offPlan is what every coupling is off the plan, beside what errors make.
func (v *verified) offPlan() piece {
	b := piece{
		heading: "Off the plan, cold and at rest",
		words:   []string{fmt.Sprintf("After less planned, and what errors of reading (before and after) and of placing make in 95 of 100 trains. Offsets in %s, angles in mrad.", v.moveUnit())},
		table:   &grid{rows: [][]string{{"coupling", "what", "off by", "errors", ""}}, wraps: []bool{true, false, false, false, false}},
	}
	for i := range v.r.Couplings {
		c := &v.r.Couplings[i]
		e := &v.r.Verdict.Couplings[i]
		row := func(what string, now, planned, standard float64, print func(float64) number, plus, minus string) {
			off, half := now-planned, 1.96*standard
			if math.IsNaN(off) {
				return
			}
			more := ""
			if math.Abs(off) > half {
				more = "more"
			}
			b.table.rows = append(b.table.rows, []string{v.coupling(i), what, signed(print, off, plus, minus), "± " + string(print(half)), more})
		}
		row("offset, up and down", c.Now.V.Offset, c.Planned.V.Offset, e.V.Offset, v.offset, "%s high", "%s low")
		row("angle, up and down", c.Now.V.Angle, c.Planned.V.Angle, e.V.Angle, v.angle, "climbs %s", "falls %s")
		row("offset, sideways", c.Now.H.Offset, c.Planned.H.Offset, e.H.Offset, v.offset, "%s left", "%s right")
		row("angle, sideways", c.Now.H.Angle, c.Planned.H.Angle, e.H.Angle, v.angle, "turns left %s", "turns right %s")
		row("shaft ends", c.Now.Gap, c.Planned.Gap, e.Gap, v.length, "%s wider", "%s closer")
	}
	return b
}

// motions is how the machines went, as far as the couplings tell.
func (v *verified) motions() piece {
	b := piece{
		heading: "How the machines went, as far as the couplings tell",
		words:   []string{fmt.Sprintf("In %s, up and down and then sideways: planned, and what the readings make most likely, with what that may be off in 95 of 100. Couplings see machines against each other: where errors of placing are all that is known of a foot, the planned move stands.", v.moveUnit())},
		table:   &grid{rows: [][]string{{"station", "planned", "went", "planned", "went"}}, wraps: []bool{true, false, false, false, false}},
	}
	if w := v.r.Verdict; len(w.Suspects) > 0 {
		b.words = append(b.words, "Worked out as if "+v.place(&w.Suspects[0].Fault)+" were what went otherwise.")
	}
	short := func(n float64, plus, minus string) string { return signed(v.offset, n, plus+" %s", minus+" %s") }
	for i := range v.r.Verdict.Machines {
		if !v.r.Moves.Moved(i) {
			continue
		}
		b.table.rows = append(b.table.rows, []string{v.machine(i), "", "", "", ""})
		for _, s := range v.r.Verdict.Machines[i].Stations {
			b.table.rows = append(b.table.rows, []string{
				"- " + v.stood(i, s.Feet),
				short(s.PlannedUp, "up", "down"), short(s.Up, "up", "down") + " ± " + string(v.offset(s.HalfUp)),
				short(s.PlannedLeft, "left", "right"), short(s.Left, "left", "right") + " ± " + string(v.offset(s.HalfLeft)),
			})
		}
	}
	if len(b.table.rows) == 1 {
		return piece{heading: b.heading, words: []string{"The plan moved nothing."}}
	}
	return b
}

// stood names a foot station: a pair by its table.
func (v *verified) stood(i int, feet []int) string {
	if len(feet) == 2 {
		if table, pair := v.pair(i, feet[0], feet[1]); pair {
			return table
		}
	}
	return v.feetOf(i, feet)
}

// differences are those between the plan and the train file.
func (v *verified) differences() piece {
	b := piece{heading: "What differs between the plan and the train file"}
	for _, d := range v.r.Differences {
		b.items = append(b.items, clean(d))
	}
	for _, p := range v.r.Doubted {
		foot := v.machine(p.Machine) + " " + v.foot(p.Machine, p.Foot)
		what := ", which is neither what lay there before nor that"
		if v.r.Packs == verify.PacksOld {
			what = ", what lay there before"
		}
		b.items = append(b.items, fmt.Sprintf("%s: the plan leaves a pack of %s, the file has %s%s", foot, with(v.packed(p.Then), v.moveUnit()), v.packed(p.Is), what))
	}
	return b
}

// remaining is the plan from here, where limits are not met.
func (v *verified) remaining() []piece {
	p := v.r.Remaining
	if v.r.Met() {
		return nil
	}
	t := &planText{speaker: speakerFor(p), plan: p}
	b := piece{heading: "What is left to do"}
	if len(v.r.Verdict.Suspects) > 0 {
		b.words = append(b.words, "Find out first what is named above: a foot that is held goes nowhere by this plan either.")
	}
	if v.r.Packs == verify.PacksOld {
		b.words = append(b.words, "Reckoned from packs of before the moves: state those of now, and plan again.")
	}
	switch p.Status {
	case optimize.Planned:
		b.words = append(b.words, fmt.Sprintf("From how the train stands now: move %d of %s; total movement %s, largest move at a foot %s; every coupling ends within %s of its limits %s.",
			p.Moved, plural(len(v.t.Machines), "machine"), with(t.total(p.Plain), t.moveUnit()), with(t.moved(p.Peak), t.moveUnit()), percent(p.Reached), t.conditions()), t.sides())
		b.table = t.moveTable()
	case optimize.Impossible:
		b.words = append(b.words, "From how the train stands now no plan exists (proven). What clashes:")
		for _, g := range t.clashGroups() {
			b.items = append(b.items, t.atOdds(g.member.Limit, g.feet))
		}
	default:
		b.words = append(b.words, "From how the train stands now no plan was found, and it was not proven that there is none.")
	}
	return []piece{b, {words: []string{"leastmove plan, with the train file of after the moves, says all of it."}}}
}

// moveTable is what is to be done at every foot, in one table.
func (t *planText) moveTable() *grid {
	g := &grid{rows: [][]string{{"machine", "foot", "shims", "pack", "sideways"}}, wraps: []bool{true, true, false, false, false}}
	if t.ownSides() {
		g.rows[0], g.wraps = append(g.rows[0], "toward"), append(g.wraps, true)
	}
	for i, feet := range t.plan.Moves {
		if !t.plan.Moves.Moved(i) {
			g.rows = append(g.rows, append([]string{t.machine(i), "stays"}, make([]string, len(g.wraps)-2)...))
			continue
		}
		if !t.moved(feet[0].Axial).zero() {
			g.rows = append(g.rows, append([]string{t.machine(i), t.along(feet[0].Axial)}, make([]string, len(g.wraps)-2)...))
		}
		for f, move := range feet {
			foot := &t.t.Machines[i].Feet[f]
			in := move.Up + foot.Cut
			row := []string{t.machine(i), t.foot(i, f), t.shim(in), t.pack(foot.Pack, in), t.side(move.Left)}
			if t.ownSides() {
				row = append(row, t.site(move.Left))
			}
			g.rows = append(g.rows, row)
		}
	}
	return g
}
