package report

import (
	"fmt"
	"math"

	"leastmove/train"
)

// couplings are the states of every coupling in every condition: as found, and
// planned beside it where there is a plan.
func (t *planText) couplings(heading string, found, planned [][]train.Reading) {
	t.heading(heading)
	t.page.couplings(t.speaker, found, planned)
}

func (p *page) couplings(s speaker, found, planned [][]train.Reading) {
	p.paragraph("", s.offsetsAtX())
	for i := range s.t.Couplings {
		c := &s.t.Couplings[i]
		p.blank()
		p.caption("", s.against(i)+s.planes(c)+s.wanted(c))
		g := grid{wraps: []bool{true, false}}
		if planned != nil {
			g.wraps = append(g.wraps, false)
		}
		for k := range s.t.Conditions {
			if k > 0 {
				g.rows = append(g.rows, make([]string, len(g.wraps)))
			}
			block := grid{rows: [][]string{
				{s.condition(k)}, {"of its limit"}, {"taken up by"}, {""}, {"up and down"}, {"sideways"}, {"shaft ends"},
			}}
			if planned == nil {
				block.column("as found", s.state(&found[i][k]))
			} else {
				block.column("before", s.state(&found[i][k]))
				block.column("after", s.state(&planned[i][k]))
			}
			if math.IsNaN(found[i][k].Gap) {
				block.rows = block.rows[:len(block.rows)-1]
			}
			g.rows = append(g.rows, block.rows...)
		}
		p.grid(g)
	}
}

// offsetsAtX says what the numbers of couplings are.
func (s speaker) offsetsAtX() string {
	return fmt.Sprintf("Offsets in %s, angles in mrad; how the shaft named first stands against the other at x, in train stations (%s).", s.moveUnit(), s.lengthUnit())
}

// against names a coupling and its shafts.
func (s speaker) against(i int) string {
	c := &s.t.Couplings[i]
	return fmt.Sprintf("%s: %s against %s", s.coupling(i), s.shaft(c.To), s.shaft(c.From))
}

// planes are the stations that a coupling's numbers speak of.
func (s speaker) planes(c *train.Coupling) string {
	words := ", at x = " + s.station(c.X)
	if c.Spacer {
		words += fmt.Sprintf(", flex planes at %s and %s", s.station(c.Flex[0]), s.station(c.Flex[1]))
	}
	return words
}

// wanted is what a coupling is to show in the running condition, where that is
// not zero.
func (s speaker) wanted(c *train.Coupling) string {
	var words string
	if c.Wanted != (train.Misalignment{}) {
		words += "; wanted when running: " + s.high(c.Wanted.V) + ", " + s.aside(c.Wanted.H)
	}
	if n := s.length(c.WantedGap); n != "" {
		words += "; shaft ends wanted when running: " + with(n, s.lengthUnit()) + " apart"
	}
	return words
}

// column puts a column under a header beside what is in the grid.
func (g *grid) column(header string, cells []string) {
	g.rows[0] = append(g.rows[0], header)
	for i, cell := range cells {
		g.rows[i+1] = append(g.rows[i+1], cell)
	}
}

// state is one coupling in one condition, line by line.
func (s speaker) state(r *train.Reading) []string {
	w := worst(r)
	value := s.offset(w.Share*w.Limit) + " of " + s.offset(w.Limit) + number(" "+s.moveUnit())
	switch {
	case w.Kind == train.Gap:
		value = s.length(w.Share*w.Limit) + " of " + s.length(w.Limit) + number(" "+s.lengthUnit())
	case w.Kind.Angular():
		value = s.angle(w.Share*w.Limit) + " of " + s.angle(w.Limit) + " mrad"
	}
	return []string{
		share(w.Share), w.Kind.String(), string(value), s.high(r.V), s.aside(r.H),
		with(s.length(r.Gap), s.lengthUnit()) + " apart",
	}
}
