package report

import (
	"fmt"

	"leastmove/train"
)

// growth says how every shaft goes from cold to running, and how much of it each
// condition has.
func (t *planText) growth() {
	t.heading("Growth, running shift and conditions")
	t.paragraph("", fmt.Sprintf("From cold to running, at the ends of each machine, in %s and mrad; stations in %s along the train. The running shift is that of a loaded shaft within its bearings.", t.moveUnit(), t.lengthUnit()))
	g := grid{
		rows:  [][]string{{"shaft", "at", "up and down", "sideways", "along", "case rolls", "running shift"}},
		wraps: []bool{true, false, false, false, false, false, false},
	}
	for i := range t.t.Machines {
		for s := range t.t.Machines[i].Shafts {
			for _, x := range t.t.Body(i) {
				g.rows = append(g.rows, t.growthRow(train.End{Machine: i, Shaft: s}, x))
			}
		}
	}
	t.grid(g)
	if words := t.worked(); words != nil {
		t.paragraph("", "Worked out from temperature rise, material and height, not measured: "+and(words)+".")
	}
	t.shares()
}

func (t *planText) growthRow(e train.End, x float64) []string {
	m := &t.t.Machines[e.Machine]
	shaft := &m.Shafts[e.Shaft]
	g := m.Growth
	if shaft.Growth != nil {
		g = *shaft.Growth
	}
	own := x - m.At
	v, h := g.V.At(own)+g.Roll*shaft.Y/1000, g.H.At(own)-g.Roll*(m.Height+shaft.Z)/1000
	run := signed(t.offset, shaft.Run.V, "%s up", "%s down") + ", " + signed(t.offset, shaft.Run.H, "%s left", "%s right")
	if shaft.Run == (train.Shift{}) {
		run = "none"
	}
	return []string{
		t.shaft(e), "x = " + t.station(x), signed(t.offset, v, "%s up", "%s down"), signed(t.offset, h, "%s left", "%s right"),
		signed(t.offset, g.A.At(own), "%s to the last", "%s to the first"), signed(t.angle, g.Roll, "%s, left up", "%s, right up"), run,
	}
}

// worked are the machines whose growth was worked out.
func (t *planText) worked() []string {
	var words []string
	for i := range t.t.Machines {
		if t.t.Machines[i].Growth.Worked {
			words = append(words, t.machine(i))
		}
	}
	return words
}

// shares says what each condition has of growth and shift, and of the limits.
func (t *planText) shares() {
	g := grid{rows: [][]string{{"condition", "growth", "running shift", "coupling limits"}}, wraps: []bool{true, true, false, false}}
	for k := range t.t.Conditions {
		c := &t.t.Conditions[k]
		g.rows = append(g.rows, []string{t.condition(k), t.growthShares(c), exactly(c.Run), exactly(c.Use)})
	}
	t.caption("", "Shares that each condition has")
	t.grid(g)
}

// growthShares is one share where all machines have the same, else each.
func (t *planText) growthShares(c *train.Condition) string {
	var words []string
	same := true
	for i, share := range c.Growth {
		same = same && share == c.Growth[0]
		words = append(words, t.machine(i)+" "+exactly(share))
	}
	if same {
		return exactly(c.Growth[0])
	}
	return and(words)
}

// exactly is a share in per cent as the file has it.
func exactly(share float64) string { return fixed(100*share, 2).short() + " %" }
