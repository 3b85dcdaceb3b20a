package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// rest tells the crew what to read once the moves are made.
func (t *planText) rest() {
	t.Heading("What to read after the moves, cold and at rest")
	t.Say(fmt.Sprintf("Before anything has warmed, both shafts at standstill. Offsets in %s, angles in mrad; how the "+
		"shaft named first sits relative to the other, planes in train stations (%s).", t.MoveUnit(), t.LengthUnit()))
	spacers := slices.ContainsFunc(t.Train.Couplings, func(c view.Coupling) bool { return c.Spacer })
	if spacers {
		t.Say("At a flex plane: how the spacer sits relative to the shaft before it, and the shaft after it relative " +
			"to the spacer.")
	}
	if slices.ContainsFunc(t.Train.Couplings, func(c view.Coupling) bool { return len(c.Dials)+len(c.Targets) > 0 }) {
		t.Say("Dials: what those that read the coupling, and those of the file's targets, will show, sag in it, both " +
			"shafts turned together; positions as seen looking from the first machine to the last.")
	}
	for i, r := range t.plan.AtRest {
		c := &t.Train.Couplings[i]
		t.Space()
		g := doc.Table{Columns: []doc.Column{doc.Wide("plane"), doc.Fixed("up and down"), doc.Fixed("sideways")}}
		g.Add("x = "+t.Station(c.X), t.High(r.V), t.Aside(r.H))
		t.offsets(c, &r, &g)
		for _, u := range r.Uses {
			if u.Kind == view.Flex1 || u.Kind == view.Flex2 {
				g.Add(
					"flex plane "+t.Station(c.Flex[u.Kind-view.Flex1]),
					words.Signed(t.Angle, u.V, "slopes up %s", "slopes down %s"), words.Signed(t.Angle, u.H, "points left %s",
						"points right %s"),
				)
			}
		}
		if f, stated := view.FaceOf(t.Train, i, &r.Misalignment); stated {
			top, left := t.gapSides(f)
			g.Add("gap on "+t.gapAcross(f), "wider by "+top, "wider by "+left)
		}
		if n := t.Length(r.Gap); n != "" {
			g.Add("shaft ends", words.With(n, t.LengthUnit())+" apart", "")
		}
		g.Caption = t.against(i)
		t.Table(g)
		t.targets(t.formatter, i, &r)
	}
}
