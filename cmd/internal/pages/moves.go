package pages

import (
	"fmt"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// moves tells the crew what to do, machine by machine and foot by foot.
func (t *planText) moves() {
	t.Heading("Moves")
	t.Say(t.Sides())
	for i := range t.Train.Machines {
		if !t.Train.Machines[i].Hold && t.cut(i) != "" {
			t.Say("Where something comes off a foot or its base: shims = move of the foot + what comes off. The total, and " +
				"the largest move, count the move of the foot.")
			break
		}
	}
	if t.fillsAny() {
		t.Say("Where a gap under a foot is filled: shims = move of the foot + what fills the gap, at once, from the " +
			"shim pack as the file has it. The total, and the largest move, count the move of the foot.")
	}
	for i := range t.plan.Moves {
		t.Space()
		m := &t.Train.Machines[i]
		switch {
		case m.Hold:
			t.Subheading(t.Machine(i) + ": held, may not be moved")
		case !t.plan.Moves.Moved(i) && t.cut(i) == "" && t.filling(i) == nil:
			t.Subheading(t.Machine(i) + ": stays")
		default:
			t.machineMoves(i)
		}
	}
}

// movesOrNearest are the moves of the plan, or the nearest that are known where it is undecided whether there is one.
func (t *planText) movesOrNearest() {
	whole, n := t.plan, t.plan.Nearest
	switch {
	case whole.Status == view.Planned:
		t.moves()
	case n != nil:
		t.Heading("Moves that miss by least")
		t.plan = n
		t.nearestSaid()
		t.Say(t.Sides())
		t.Table(t.movedTable(n.Summary.Moves))
		t.plan = whole
	}
}

func (t *planText) machineMoves(i int) {
	feet := t.plan.Moves[i]
	text, colon := t.Machine(i), ": "
	if !t.Moved(feet[0].Axial).Zero() {
		text += colon + t.Along(feet[0].Axial)
		colon = "; "
	}
	if cut := t.cut(i); cut != "" {
		text += colon + cut
	}
	g := doc.Table{Columns: []doc.Column{doc.Wide("foot"), doc.Fixed("shims"), doc.Fixed("shim pack"),
		doc.Wide("sideways")}}
	for f, move := range feet {
		change := t.plan.Changes[i][f]
		row := []string{t.Foot(i, f), t.Shim(change.By()), t.Pack(change), t.sited(t.Side(move.Left), move.Left)}
		g.Add(row...)
	}
	g.Caption = text
	t.Table(g)
	if chocks := t.Stepless(i); chocks != "" {
		t.Say(words.Capital(chocks) + ".")
	}
	for _, f := range t.filling(i) {
		t.Say("At " + t.Foot(i, f) + " " + t.fillOf(i, f, feet[f]))
	}
}

// sited is a move to a side in words, with the site's own word for the side.
func (s formatter) sited(text string, left float64) string {
	if site := s.Site(left); s.OwnSides() && site != "" {
		text += " (" + site + ")"
	}
	return text
}

// fillOf is how much of the change of a pack fills the gap under its foot.
func (t *planText) fillOf(i, f int, move view.FootMove) string {
	return fmt.Sprintf("%s of this fills the gap found: the move alone is %s.",
		words.With(t.Moved(t.plan.Changes[i][f].Fill), t.MoveUnit()), t.Shim(move.Up))
}

// gapsFilled says of all feet how much of the change of their packs fills the gaps under them.
func (t *planText) gapsFilled() []string {
	var said alike
	for i, feet := range t.plan.Moves {
		for _, f := range t.filling(i) {
			said.of(t.Machine(i)+" "+t.Foot(i, f), "At %s "+t.fillOf(i, f, feet[f]))
		}
	}
	return said.all()
}

// fillsAny says whether something fills a gap under any foot.
func (s formatter) fillsAny() bool {
	for i := range s.Train.Machines {
		if s.filling(i) != nil {
			return true
		}
	}
	return false
}

// filling are the feet of a machine under which something fills a gap.
func (s formatter) filling(i int) []int {
	var out []int
	for f := range s.Train.Machines[i].Feet {
		if !s.Moved(s.PackChange(i, f, view.FootMove{}).Fill).Zero() {
			out = append(out, f)
		}
	}
	return out
}

// cut says what comes off the feet of a machine before its packs are made.
func (s formatter) cut(i int) string {
	var groups []footGroup
	for f := range s.Train.Machines[i].Feet {
		if n := s.Moved(s.Train.Machines[i].Feet[f].Cut); !n.Zero() {
			groups = grouped(groups, string(n), f)
		}
	}
	var parts []string
	for _, g := range groups {
		parts = append(parts, fmt.Sprintf("%s at %s", words.With(words.Number(g.words), s.MoveUnit()), s.FeetOf(i, g.feet)))
	}
	if parts == nil {
		return ""
	}
	return "the shims make up for what comes off feet or base first, " + words.And(parts)
}
