package report

// moves tells the crew what to do, machine by machine and foot by foot.
func (t *planText) moves() {
	t.heading("Moves")
	t.paragraph("", t.sides())
	for i := range t.plan.Moves {
		t.line("")
		m := &t.t.Machines[i]
		switch {
		case m.Hold:
			t.paragraph("", t.machine(i)+": held, may not be moved")
		case !t.plan.Moves.Moved(i):
			t.paragraph("", t.machine(i)+": stays")
		default:
			t.machineMoves(i)
		}
	}
}

func (t *planText) machineMoves(i int) {
	feet := t.plan.Moves[i]
	words := t.machine(i)
	if !t.moved(feet[0].Axial).zero() {
		words += ": " + t.along(feet[0].Axial)
	}
	t.paragraph("", words)
	g := grid{
		rows:  [][]string{{"foot", "shims", "pack", "sideways"}},
		wraps: []bool{true, false, false, false},
	}
	for f, move := range feet {
		foot := &t.t.Machines[i].Feet[f]
		g.rows = append(g.rows, []string{t.foot(i, f), t.shim(move.Up), t.pack(foot.Pack, move.Up), t.side(move.Left)})
	}
	t.grid(g)
}
