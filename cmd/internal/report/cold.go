package report

import (
	"fmt"
	"leastmove/cmd/internal/words"
)

// cold says what to read cold and at rest for what is wanted when running,
// whatever was found and whatever is planned.
func (p *page) cold(s formatter) {
	p.heading("What to read cold for what is wanted when running")
	p.paragraph("", fmt.Sprintf("Cold and at rest, so that with growth and running shift every coupling stands as wanted: for setting it by hand. Offsets in %s, angles in mrad; how the shaft named first stands against the other. Dials with sag in them, both shafts turned together.", s.MoveUnit()))
	for i, r := range s.Train.Cold() {
		c := &s.Train.Couplings[i]
		p.blank()
		p.paragraph("", s.against(i)+s.wanted(c))
		g := grid{
			rows:  [][]string{{"plane", "up and down", "sideways"}, {"x = " + s.Station(c.X), s.High(r.V), s.Aside(r.H)}},
			wraps: []bool{true, false, false},
		}
		s.offsets(c, &r, &g)
		if n := s.Length(r.Gap); n != "" {
			g.rows = append(g.rows, []string{"shaft ends", words.With(n, s.LengthUnit()) + " apart", ""})
		}
		p.grid(g)
		p.targets(s, c, &r)
	}
}
