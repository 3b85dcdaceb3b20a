package pages

import (
	"fmt"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// growth says how every shaft goes from cold to running, and how much of it each
// condition has.
func (t *planText) growth() {
	t.Heading("Growth, journal shift and conditions")
	t.Say(fmt.Sprintf("From cold to running, at the ends of each machine, in %s and mrad; stations in %s along the "+
		"train. The journal shift is that of a loaded shaft within its bearings.", t.MoveUnit(), t.LengthUnit()))
	g := doc.Table{Broad: true, Columns: []doc.Column{
		doc.Wide("shaft"), doc.Fixed("at"), doc.Fixed("up and down"), doc.Fixed("sideways"),
		doc.Fixed("along"), doc.Fixed("case rolls"), doc.Fixed("journal shift"),
	}}
	for _, end := range t.plan.Growth {
		g.Add(t.growthRow(end)...)
	}
	t.Table(g)
	if parts := t.worked(); parts != nil {
		t.Say("Worked out from temperature rise, material and height, not measured: " + words.And(parts) + ".")
	}
	t.shares()
}

func (t *planText) growthRow(e view.Growth) []string {
	run := words.Signed(t.Offset, e.Run.V, "%s up", "%s down") + ", " + words.Signed(t.Offset, e.Run.H,
		"%s left", "%s right")
	switch {
	case e.RunUnknown:
		run = "not stated"
	case e.Run == (view.Shift{}):
		run = "none"
	}
	return []string{
		t.Shaft(e.Shaft), "x = " + t.Station(e.X), words.Signed(t.Offset, e.Up, "%s up", "%s down"),
		words.Signed(t.Offset, e.Left, "%s left", "%s right"),
		words.Signed(t.Offset, e.Axial, "%s to the last", "%s to the first"), words.Signed(t.Angle, e.Roll, "%s, left up",
			"%s, right up"), run,
	}
}

// worked are the machines whose growth was worked out.
func (t *planText) worked() []string {
	var words []string
	for i := range t.Train.Machines {
		if t.Train.Machines[i].Growth.Worked {
			words = append(words, t.Machine(i))
		}
	}
	return words
}

// shares says what each condition has of growth and shift, and of the limits.
func (t *planText) shares() {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("condition"), doc.Wide("growth"), doc.Fixed("journal shift"),
		doc.Fixed("coupling limits"),
	}}
	for k := range t.Train.Conditions {
		c := &t.Train.Conditions[k]
		g.Add(t.Condition(k), t.growthShares(c), exactly(c.Run), exactly(c.Use))
	}
	g.Caption = "Shares that each condition has"
	t.Table(g)
}

// growthShares is one share where all machines have the same, else each.
func (t *planText) growthShares(c *view.Condition) string {
	var parts []string
	same := true
	for i, share := range c.Growth {
		if c.OwnGrowth(i) != nil {
			same = false
			parts = append(parts, t.Machine(i)+" of its own")
			continue
		}
		same = same && share == c.Growth[0]
		parts = append(parts, t.Machine(i)+" "+exactly(share))
	}
	if same {
		return exactly(c.Growth[0])
	}
	return words.And(parts)
}

// exactly is a share in per cent as the file has it.
func exactly(share float64) string { return words.Fixed(100*share, 2).Short() + " %" }
