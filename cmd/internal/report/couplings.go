package report

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// couplings are the states of every coupling in every condition: as found, and
// planned beside it where there is a plan.
func (t *planText) couplings(heading string, found, planned [][]train.Reading) {
	t.heading(heading)
	t.page.couplings(t.formatter, found, planned)
}

func (p *page) couplings(s formatter, found, planned [][]train.Reading) {
	p.paragraph("", s.offsetsAtX())
	for i := range s.Train.Couplings {
		c := &s.Train.Couplings[i]
		p.blank()
		p.caption("", s.against(i)+s.planes(c)+s.wanted(c))
		g := grid{wraps: []bool{true, false}}
		if planned != nil {
			g.wraps = append(g.wraps, false)
		}
		for k := range s.Train.Conditions {
			if k > 0 {
				g.rows = append(g.rows, make([]string, len(g.wraps)))
			}
			block := grid{rows: [][]string{
				{s.Condition(k)}, {"of its limit"}, {"taken up by"}, {""}, {"up and down"}, {"sideways"}, {"shaft ends"},
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
func (s formatter) offsetsAtX() string {
	return fmt.Sprintf("Offsets in %s, angles in mrad; how the shaft named first stands against the other at x, in train stations (%s).", s.MoveUnit(), s.LengthUnit())
}

// against names a coupling and its shafts.
func (s formatter) against(i int) string {
	c := &s.Train.Couplings[i]
	return fmt.Sprintf("%s: %s against %s", s.Coupling(i), s.Shaft(c.To), s.Shaft(c.From))
}

// planes are the stations that a coupling's numbers speak of.
func (s formatter) planes(c *train.Coupling) string {
	words := ", at x = " + s.Station(c.X)
	if c.Spacer {
		words += fmt.Sprintf(", flex planes at %s and %s", s.Station(c.Flex[0]), s.Station(c.Flex[1]))
	}
	return words
}

// wanted is what a coupling is to show in the running condition, where that is
// not zero.
func (s formatter) wanted(c *train.Coupling) string {
	var text string
	if c.Wanted != (train.Misalignment{}) {
		text += "; wanted when running: " + s.High(c.Wanted.V) + ", " + s.Aside(c.Wanted.H)
	}
	if n := s.Length(c.WantedGap); n != "" {
		text += "; shaft ends wanted when running: " + words.With(n, s.LengthUnit()) + " apart"
	}
	return text
}

// column puts a column under a header beside what is in the grid.
func (g *grid) column(header string, cells []string) {
	g.rows[0] = append(g.rows[0], header)
	for i, cell := range cells {
		g.rows[i+1] = append(g.rows[i+1], cell)
	}
}

// state is one coupling in one condition, line by line.
func (s formatter) state(r *train.Reading) []string {
	w := worst(r)
	value := s.Offset(w.Share*w.Limit) + " of " + s.Offset(w.Limit) + words.Number(" "+s.MoveUnit())
	switch {
	case w.Kind == train.Gap:
		value = s.Length(w.Share*w.Limit) + " of " + s.Length(w.Limit) + words.Number(" "+s.LengthUnit())
	case w.Kind.Angular():
		value = s.Angle(w.Share*w.Limit) + " of " + s.Angle(w.Limit) + " mrad"
	}
	return []string{
		words.Share(w.Share), w.Kind.String(), string(value), s.High(r.V), s.Aside(r.H),
		words.With(s.Length(r.Gap), s.LengthUnit()) + " apart",
	}
}
