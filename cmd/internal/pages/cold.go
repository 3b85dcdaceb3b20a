package pages

import (
	"fmt"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// cold says what to read cold and at rest for what is wanted when running,
// whatever was found and whatever is planned.
func (p *page) cold(s formatter, cold []view.Reading) {
	p.Heading("What to read cold for what is wanted when running")
	p.Say(fmt.Sprintf("Cold and at rest, so that with growth and journal shift every coupling sits as wanted: for "+
		"setting it by hand. Offsets in %s, angles in mrad; how the shaft named first sits relative to the other. Dials "+
		"with sag in them, both shafts turned together.", s.MoveUnit()))
	for i, r := range cold {
		c := &s.Train.Couplings[i]
		p.Space()
		p.Say(s.against(i) + s.wanted(c))
		g := doc.Table{Columns: []doc.Column{doc.Wide("plane"), doc.Fixed("up and down"), doc.Fixed("sideways")}}
		g.Add("x = "+s.Station(c.X), s.High(r.V), s.Aside(r.H))
		s.offsets(c, &r, &g)
		if n := s.Length(r.Gap); n != "" {
			g.Add("shaft ends", words.With(n, s.LengthUnit())+" apart", "")
		}
		p.Table(g)
		p.targets(s, i, &r)
	}
}
