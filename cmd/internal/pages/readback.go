package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// readBack says in plain words what the file says, for the people who measured it.
func (p *page) readBack(s formatter, check *view.Check) {
	b := &check.Back
	p.Heading("As read: confirm this at the machines")
	p.Say(s.Sides() + " A sign the wrong way round or two feet swapped can be seen here alone.")
	for i := range b.Couplings {
		c := &b.Couplings[i]
		text := fmt.Sprintf("%s, at x = %s: %s; %s", s.Coupling(i), s.Station(s.Train.Couplings[i].X), s.Sits(i, c.Read),
			s.Wider(c.Face.Diameter, c.Face.Top, c.Face.Left))
		if swapped := c.Swapped; swapped != nil {
			text += fmt.Sprintf(". Were 3 and 9 of one dial swapped, the gap would differ by %s sideways, not %s: which is so?",
				words.With(s.Offset(math.Abs(swapped.Left)), s.MoveUnit()), s.Offset(math.Abs(c.Face.Left)))
		}
		if taken := s.Taken(c.Taken); taken != "" {
			text += "; read " + taken
		}
		p.Item(text)
	}
	p.Space()
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("coupling"), doc.Wide("state"), doc.Fixed("up, down"), doc.Fixed("slopes"), doc.Fixed("sideways"),
		doc.Fixed("points"),
	}, Names: 2}
	for i := range b.Couplings {
		c := &b.Couplings[i]
		g.Add(append([]string{s.Coupling(i), "as read"}, s.tilted(c.Read)...)...)
		g.Add(append([]string{"", s.Condition(0)}, s.tilted(c.Running)...)...)
	}
	g.Caption = fmt.Sprintf("Couplings as read, and then with growth and journal shift, in %s and mrad (%s)",
		s.MoveUnit(), s.perMrad())
	p.Table(g)
	p.Space()
	p.Table(s.grown(b.Growth))
	if len(check.Open) > 0 {
		p.Say("Taken as none, and no chance is given: " + s.open(check.Open) + ".")
	}
	p.Space()
	p.Say(s.unchecked(b))
}

// tilted is a misalignment, cell by cell.
func (s formatter) tilted(m view.Misalignment) []string {
	return []string{
		words.Signed(s.Offset, m.V.Offset, "%s high", "%s low"), words.Signed(s.Angle, m.V.Angle, "up %s", "down %s"),
		words.Signed(s.Offset, m.H.Offset, "%s left", "%s right"), words.Signed(s.Angle, m.H.Angle, "left %s", "right %s"),
	}
}

// grown is how every machine grows at its feet, along the train.
func (s formatter) grown(growth []view.FootGrowth) doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("feet"), doc.Number("station"), doc.Fixed("up, down"), doc.Fixed("sideways"),
		doc.Fixed("along"),
	}, Names: 2}
	g.Caption = fmt.Sprintf("Shafts over their feet along the train, and how they grow from cold to running, in %s",
		s.MoveUnit())
	last := ""
	for n := range growth {
		at := &growth[n]
		name := s.Machine(at.Machine)
		if at.Shaft != "" {
			name += "/" + s.Name(at.Shaft)
		}
		cell := name
		if n > 0 && name == last {
			cell = ""
		}
		last = name
		up := words.Signed(s.Offset, at.Up, "%s up", "%s down")
		if at.UpUnknown {
			up = "not stated"
		}
		along := words.Signed(s.Offset, at.Axial, "%s to "+s.Machine(s.Last()), "%s to "+s.Machine(0))
		if at.AxialUnknown {
			along = "not stated"
		}
		feet := s.FeetOf(at.Machine, at.Feet)
		if len(at.Feet) == 2 {
			if table, pair := s.Pair(at.Machine, at.Feet[0], at.Feet[1]); pair {
				feet = table
			}
		}
		g.Add(cell, feet, s.Station(at.X), up,
			words.Signed(s.Offset, at.Left, "%s left", "%s right"), along)
	}
	return g
}

// unchecked says what nothing in the file checks.
func (s formatter) unchecked(b *view.ReadBack) string {
	var at []string
	for _, u := range b.Unchecked {
		name := s.Coupling(u.Coupling)
		if len(u.Dials) > 0 && !u.All {
			var dials []string
			for _, k := range u.Dials {
				dials = append(dials, s.dial(&s.Train.Couplings[u.Coupling], &s.Train.Couplings[u.Coupling].Dials[k]))
			}
			name += " (" + words.And(dials) + ")"
		}
		at = append(at, name)
	}
	var parts []string
	if at != nil {
		parts = append(parts, "what was read at "+words.And(at))
	}
	parts = append(parts, "growth")
	if len(b.Bolts) > 0 {
		parts = append(parts, "bolt_at of "+words.And(s.Machines(b.Bolts)))
	}
	return "Nothing in the file checks the signs and sides of: " + strings.Join(parts, "; ") + "."
}

// bound names the feet that are at their end before any move.
func (p *page) bound(s formatter, c *view.Check) {
	if len(c.Bound) == 0 {
		return
	}
	p.Say("At their end as found, or with less than a tenth of their room left:")
	for _, b := range c.Bound {
		p.Item(s.Machine(b.Machine) + " " + s.Foot(b.Machine, b.Foot) + ": " +
			words.And(c.Rooms[b.Machine][b.Foot].AtEnd()))
	}
	p.Space()
}
