package report

import (
	"fmt"
	"math"
	"strings"

	"leastmove/optimize"
	"leastmove/train"
)

// moves tells the crew what to do, machine by machine and foot by foot.
func (t *planText) moves() {
	t.heading("Moves")
	t.paragraph("", t.sides())
	for i := range t.t.Machines {
		if !t.t.Machines[i].Hold && t.cut(i) != "" {
			t.paragraph("", "Where something comes off a foot or its base: shims = move of the foot + what comes off. The total, and the largest move, count the move of the foot.")
			break
		}
	}
	if t.fillsAny() {
		t.paragraph("", "Where a gap under a foot is filled: shims = move of the foot + what fills the gap, at once, from the pack as the file has it. The total, and the largest move, count the move of the foot.")
	}
	for i := range t.plan.Moves {
		t.blank()
		m := &t.t.Machines[i]
		switch {
		case m.Hold:
			t.caption("", t.machine(i)+": held, may not be moved")
		case !t.plan.Moves.Moved(i) && t.cut(i) == "" && t.filling(i) == nil:
			t.caption("", t.machine(i)+": stays")
		default:
			t.machineMoves(i)
		}
	}
}

func (t *planText) machineMoves(i int) {
	feet := t.plan.Moves[i]
	words, colon := t.machine(i), ": "
	if !t.moved(feet[0].Axial).zero() {
		words += colon + t.along(feet[0].Axial)
		colon = "; "
	}
	if cut := t.cut(i); cut != "" {
		words += colon + cut
	}
	t.caption("", words)
	g := grid{
		rows:  [][]string{{"foot", "shims", "pack", "sideways"}},
		wraps: []bool{true, false, false, false},
	}
	if t.ownSides() {
		g.rows[0], g.wraps = append(g.rows[0], "toward"), append(g.wraps, true)
	}
	for f, move := range feet {
		in, was := t.change(i, f, move)
		row := []string{t.foot(i, f), t.shim(in), t.pack(was, in), t.side(move.Left)}
		if t.ownSides() {
			row = append(row, t.site(move.Left))
		}
		g.rows = append(g.rows, row)
	}
	t.grid(g)
	for _, f := range t.filling(i) {
		t.paragraph("", fmt.Sprintf("At %s %s of this fills the gap found: the move alone is %s.", t.foot(i, f), with(t.moved(t.filled(i, f)), t.moveUnit()), t.shim(feet[f].Up)))
	}
}

// change is by how much the pack under a foot is changed in all, in mm: by its move, by
// what comes off the foot, and by what fills the gap under it; and what the file
// has there now.
func (s speaker) change(i, f int, move train.FootMove) (by, was float64) {
	foot, fill := &s.t.Machines[i].Feet[f], s.filled(i, f)
	return move.Up + foot.Cut + fill, foot.Pack - fill
}

// fillsAny says whether something fills a gap under any foot.
func (s speaker) fillsAny() bool {
	for i := range s.t.Machines {
		if s.filling(i) != nil {
			return true
		}
	}
	return false
}

// filling are the feet of a machine under which something fills a gap.
func (s speaker) filling(i int) []int {
	var out []int
	for f := range s.t.Machines[i].Feet {
		if !s.moved(s.filled(i, f)).zero() {
			out = append(out, f)
		}
	}
	return out
}

// cut says what comes off the feet of a machine before its packs are made.
func (s speaker) cut(i int) string {
	var groups []footGroup
	for f := range s.t.Machines[i].Feet {
		if n := s.moved(s.t.Machines[i].Feet[f].Cut); !n.zero() {
			groups = grouped(groups, string(n), f)
		}
	}
	var words []string
	for _, g := range groups {
		words = append(words, fmt.Sprintf("%s at %s", with(number(g.words), s.moveUnit()), s.feetOf(i, g.feet)))
	}
	if words == nil {
		return ""
	}
	return "the shims make up for what comes off feet or base first, " + and(words)
}

// inShort says all moves in one paragraph.
func (t *planText) inShort() {
	if t.plan.Status != optimize.Planned {
		return
	}
	var machines []string
	for i, feet := range t.plan.Moves {
		var groups []footGroup
		for f, move := range feet {
			if words := t.atFoot(i, f, move); words != "" {
				groups = grouped(groups, words, f)
			}
		}
		var words []string
		if !t.t.Machines[i].Hold && len(feet) > 0 && !t.moved(feet[0].Axial).zero() {
			words = append(words, t.along(feet[0].Axial))
		}
		for _, g := range groups {
			words = append(words, g.words+" at "+t.feetOf(i, g.feet))
		}
		if words != nil {
			machines = append(machines, t.machine(i)+": "+strings.Join(words, "; ")+".")
		}
	}
	t.paragraph("", strings.Join(machines, " ")+" "+t.sides())
}

// atFoot is what is done at one foot; "" where nothing is.
func (t *planText) atFoot(i, f int, move train.FootMove) string {
	var words []string
	in, _ := t.change(i, f, move)
	fill := t.moved(t.filled(i, f))
	switch {
	case !t.moved(in).zero() && !fill.zero():
		words = append(words, fmt.Sprintf("%s (%s fills the gap found)", t.shim(in), fill))
	case !t.moved(in).zero():
		words = append(words, t.shim(in))
	case !fill.zero():
		words = append(words, fmt.Sprintf("no change of the pack (%s fills the gap found)", fill))
	}
	if n := t.moved(math.Abs(move.Left)); !n.zero() {
		words = append(words, signed(t.moved, move.Left, "%s "+t.moveUnit()+" to the left", "%s "+t.moveUnit()+" to the right"))
	}
	return strings.Join(words, " and ")
}
