package pages

import (
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// StageNames are the stages of a plan's work order.
func StageNames(p *view.Plan) []string {
	t := &order{formatter: formatterFor(p), plan: p, work: view.Order(p)}
	var out []string
	for n := range t.work.Stages {
		out = append(out, t.stageTitle(n))
	}
	return out
}

// StageWord is what to do after a stage, in a sentence or two.
func StageWord(c *view.StageCheck, r *view.Verified) string {
	last := c.Stage == len(c.Order.Stages)-1
	switch {
	case c.GoOn && last && r.Met():
		return "DONE: every coupling is within what it may be off by, and within its limits."
	case c.GoOn && last:
		return "STOP: every coupling reads as planned, and one is past a limit all the same. See below."
	case c.GoOn:
		return "GO ON with the next stage: every coupling is within what it may be off by."
	case r.Met():
		return "STOP: a coupling is not where this stage should bring it. Every coupling is within its limits as it is: " +
			"ask whether to leave it, or plan anew from here."
	default:
		return "STOP: a coupling is not where this stage should bring it. Read it again; where it stays so, look " +
			"for why below, and plan anew from here."
	}
}

// StageDoc says what to do after a stage, by what was read: go on, stop, or plan anew; and what
// every coupling is off by.
func StageDoc(c *view.StageCheck, r *view.Verified) *doc.Doc {
	t := &order{formatter: formatterFor(c.Order.Plan), plan: c.Order.Plan, work: c.Order}
	t.Isolated = true
	var p page
	blocks := part("stage", "After: "+t.stageTitle(c.Stage), "", p.said(func() {
		p.Say(StageWord(c, r))
		p.Table(t.stageTable(c))
		if some := t.engineers(); some != nil {
			p.Say("* At " + t.quotedAll(some) + " the limits leave less than a reading tells: the engineer decides.")
		}
	}))
	return &doc.Doc{Blocks: blocks}
}

// stageTable is what every coupling should read, does read, and may be off by.
func (t *order) stageTable(c *view.StageCheck) doc.Table {
	g := doc.Table{Caption: "Cold and at standstill, offset and angle", Columns: []doc.Column{doc.Wide("coupling"),
		doc.Fixed("plane"), doc.Fixed("should be"), doc.Fixed("is"), doc.Fixed("off by"), doc.Fixed("may be off by"),
		doc.Fixed("")}}
	pair := func(offset, angle float64) string {
		return words.Signed(t.Offset, offset, "+%s", "−%s") + ", " + words.Signed(t.Angle, angle, "+%s", "−%s")
	}
	for i := range c.Couplings {
		k, w := &c.Couplings[i], &t.work.Couplings[i]
		ok, most := "off", t.accepted(i)
		if k.Within {
			ok = "OK"
		}
		if w.AcceptDials > 0 {
			most = ""
		}
		g.Add(t.Coupling(i), "up", pair(k.Should.V.Offset, k.Should.V.Angle), pair(k.Is.V.Offset, k.Is.V.Angle),
			pair(k.Off.V.Offset, k.Off.V.Angle), most, ok)
		g.Add("", "left", pair(k.Should.H.Offset, k.Should.H.Angle), pair(k.Is.H.Offset, k.Is.H.Angle),
			pair(k.Off.H.Offset, k.Off.H.Angle), most, "")
		if w.AcceptDials > 0 {
			g.Add("", "dials", "", "", words.With(t.Offset(k.DialOff), t.MoveUnit()), t.accepted(i), "")
		}
		if !math.IsNaN(k.GapOff) && !math.IsNaN(w.Gap) {
			g.Add("", "shaft ends", string(t.Length(k.Should.Gap)), string(t.Length(k.Is.Gap)),
				words.Signed(t.Offset, k.GapOff, "+%s", "−%s"), t.endsWithin(w, k.Should.Gap), "")
		}
	}
	return g
}
