package report

import (
	"fmt"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// rest tells the crew what to read once the moves are made.
func (t *planText) rest() {
	t.heading("What to read after the moves, cold and at rest")
	t.paragraph("", fmt.Sprintf("Before anything has warmed, both shafts at standstill. Offsets in %s, angles in mrad; how the shaft named first stands against the other, planes in train stations (%s).", t.moveUnit(), t.lengthUnit()))
	spacers := slices.ContainsFunc(t.t.Couplings, func(c train.Coupling) bool { return c.Spacer })
	if spacers {
		t.paragraph("", "At a flex plane: how the spacer lies against the shaft before it, and the shaft after it against the spacer.")
	}
	if slices.ContainsFunc(t.t.Couplings, func(c train.Coupling) bool { return len(c.Dials)+len(c.Targets) > 0 }) {
		t.paragraph("", "Dials: what those that read the coupling, and those of the file's targets, will show, sag in it, both shafts turned together; positions as seen looking from the first machine to the last.")
	}
	for i, r := range optimize.AtRest(t.t, t.plan.Moves) {
		c := &t.t.Couplings[i]
		t.blank()
		t.caption("", t.against(i))
		g := grid{
			rows: [][]string{
				{"plane", "up and down", "sideways"},
				{"x = " + t.station(c.X), t.high(r.V), t.aside(r.H)},
			},
			wraps: []bool{true, false, false},
		}
		t.offsets(c, &r, &g)
		for _, u := range r.Uses {
			if u.Kind == train.Flex1 || u.Kind == train.Flex2 {
				g.rows = append(g.rows, []string{
					"flex plane, x = " + t.station(c.Flex[u.Kind-train.Flex1]),
					signed(t.angle, u.V, "climbs %s", "falls %s"), signed(t.angle, u.H, "turns left %s", "turns right %s"),
				})
			}
		}
		if n := t.length(r.Gap); n != "" {
			g.rows = append(g.rows, []string{"shaft ends", with(n, t.lengthUnit()) + " apart", ""})
		}
		t.grid(g)
		t.targets(t.speaker, c, &r)
	}
}
