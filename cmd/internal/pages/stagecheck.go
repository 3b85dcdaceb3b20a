package pages

import (
	"fmt"
	"math"
	"strings"

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

// ReadingNames are the readings of a coupling as a work order names them, in the order of the file.
func ReadingNames(of *view.Train, coupling int) []string {
	f := formatterOf(of)
	c := &of.Couplings[coupling]
	var out []string
	for n := range c.Dials {
		out = append(out, f.readingAt(c, &c.Dials[n]))
	}
	return out
}

// readingAt names an instrument by where it is.
func (s formatter) readingAt(c *view.Coupling, d *view.Dial) string {
	if d.Kind == view.OffsetDial {
		return "offset at x = " + s.Station(d.X)
	}
	all, _, _ := strings.Cut(s.dial(c, d), ", sag")
	return all
}

// StageWord is what to do after a stage, in a sentence or two.
func StageWord(c *view.StageCheck, r *view.Verified) string {
	t := &order{formatter: formatterFor(c.Order.Plan), plan: c.Order.Plan, work: c.Order}
	last := c.Stage == len(c.Order.Stages)-1
	due, others := c.Unread()
	switch {
	case c.GoOn && due != nil:
		return "READ ON: what was read is within what it may be off by, but not all was read. Not read: " +
			t.quotedAll(due) + "."
	case c.GoOn && last && r.Met():
		return "DONE: every coupling is within what it may be off by, and within its limits."
	case c.GoOn && last:
		return "STOP: every coupling reads as planned, and one is past a limit all the same. See below."
	case c.GoOn && others != nil:
		return "GO ON with the next stage: what was read is within what it may be off by. Not all were read; not " +
			"read: " + t.quotedAll(others) + ", which this stage does not move."
	case c.GoOn:
		return "GO ON with the next stage: every coupling is within what it may be off by."
	case r.Met() && due == nil && others == nil:
		return "STOP: a coupling is not where this stage should bring it. Every coupling is within its limits as it is: " +
			"ask whether to leave it, or plan anew from here."
	case last:
		return "STOP: a coupling is not where this stage should bring it. Read it again; where it stays so, look " +
			"for why below, and plan anew from here."
	default:
		return "STOP: a coupling is not where this stage should bring it. Which, and what to do, is said below."
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
		p.Items(t.stageOff(c)...)
		if !c.GoOn && c.Stage < len(c.Order.Stages)-1 {
			p.Say(t.stageMend(c))
		}
		p.Table(t.stageTable(c))
		if some := t.engineers(); some != nil && c.Stage == len(c.Order.Stages)-1 {
			p.Say("* At " + t.quotedAll(some) + " the limits leave less than a reading tells: the engineer decides.")
		}
	}))
	return &doc.Doc{Blocks: blocks}
}

// stageOff names what is off, coupling by coupling, and the reading that is off most.
func (t *order) stageOff(c *view.StageCheck) []string {
	var out []string
	for i := range c.Couplings {
		k := &c.Couplings[i]
		if !k.Read || k.Within {
			continue
		}
		var off []string
		for _, row := range []struct {
			within bool
			name   string
		}{{k.Up, "up and down"}, {k.Left, "sideways"}, {k.Dials || !k.Up || !k.Left, "a dial"},
			{k.Ends, "the distance between shaft ends"}} {
			if !row.within {
				off = append(off, row.name)
			}
		}
		text := t.quoted(i) + " is off: " + words.And(off) + "."
		if k.Worst.Dial != nil && !(k.Up && k.Left && k.Dials) {
			text += " Off most: " + t.worstReading(i, &k.Worst) + "."
		}
		out = append(out, text)
	}
	return out
}

// worstReading is one reading beside what it should be.
func (t *order) worstReading(i int, r *view.StageReading) string {
	at := t.readingAt(&t.Train.Couplings[i], r.Dial)
	say := func(mm float64) string { return words.Signed(t.Offset, mm, "+%s", "−%s") }
	switch {
	case r.Quarter >= 0:
		at += fmt.Sprintf(", at %d", []int{12, 3, 6, 9}[r.Quarter])
	case r.Sideways:
		say = func(mm float64) string { return words.Signed(t.Offset, mm, "%s left", "%s right") }
		at += ", sideways"
	default:
		say = func(mm float64) string { return words.Signed(t.Offset, mm, "%s high", "%s low") }
		at += ", up and down"
	}
	return fmt.Sprintf("%s, %s in place of %s", at, say(r.Is), say(r.Should))
}

// stageMend is what to do where a coupling is off between stages.
func (t *order) stageMend(c *view.StageCheck) string {
	s := &t.work.Stages[c.Stage]
	var what []string
	for _, p := range partsOf(s) {
		what = append(what, p.sentence)
	}
	return fmt.Sprintf("Read that coupling again, and mind the signs. Where it stays so, hold the %s at %s against the "+
		"work order, make good what did not go as ordered, and read again. Where all went as ordered, plan anew from here.",
		words.And(what), t.Machine(s.Machine))
}

// stageTable is what every coupling should read, does read, and may be off by.
func (t *order) stageTable(c *view.StageCheck) doc.Table {
	g := doc.Table{Caption: "Cold and at standstill, offset in " + t.MoveUnit() +
		", angle in mrad; + is high, sloping up, to the left", Columns: []doc.Column{doc.Wide("coupling"),
		doc.Fixed("plane"), doc.Fixed("should be"), doc.Fixed("is"), doc.Fixed("off by"), doc.Fixed("may be off by"),
		doc.Fixed("")}}
	pair := func(offset, angle float64) string {
		return words.Signed(t.Offset, offset, "+%s", "−%s") + ", " + words.Signed(t.Angle, angle, "+%s", "−%s")
	}
	accepted := t.afterStage
	if c.Stage == len(c.Order.Stages)-1 {
		accepted = t.accepted
	}
	for i := range c.Couplings {
		k, w := &c.Couplings[i], &t.work.Couplings[i]
		dials := k.MostDials > 0
		add := func(name, plane, should, is, off, most string, within bool) {
			mark := "OK"
			switch {
			case !k.Read:
				is, off, mark = "not read", "", "not read"
			case !within:
				mark = "OFF"
			}
			g.Add(name, plane, should, is, off, most, mark)
		}
		most := accepted(i)
		if dials {
			most = "by dial"
		}
		add(t.Coupling(i), "up", pair(k.Should.V.Offset, k.Should.V.Angle), pair(k.Is.V.Offset, k.Is.V.Angle),
			pair(k.Off.V.Offset, k.Off.V.Angle), most, k.Up)
		add("", "left", pair(k.Should.H.Offset, k.Should.H.Angle), pair(k.Is.H.Offset, k.Is.H.Angle),
			pair(k.Off.H.Offset, k.Off.H.Angle), most, k.Left)
		if dials {
			add("", "worst dial", "", "", words.With(t.Offset(k.DialOff), t.MoveUnit()), accepted(i), k.Dials)
		}
		ends, _ := t.Apart(k.Should.Gap)
		if ends != "" && !math.IsNaN(w.Gap) && (!k.Read || !math.IsNaN(k.GapOff)) {
			add("", "shaft ends", string(t.Length(k.Should.Gap)), string(t.Length(k.Is.Gap)),
				words.Signed(t.Offset, k.GapOff, "+%s", "−%s"), t.endsWithin(w, k.Should.Gap), k.Ends)
		}
	}
	return g
}
