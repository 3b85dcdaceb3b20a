package pages

import (
	"io"
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CheckJSON writes a train as it was found for programs.
func CheckJSON(w io.Writer, c *view.Check, layout Page) error {
	t, s := c.Train, formatterOf(c.Train)
	doc := planjson.Check{
		Schema: planjson.CheckSchema, Title: s.Title(), Units: s.unitsDoc(), Sides: s.sidesDoc(),
		Use: words.Use(c.Worst), Within: c.Worst <= 1+words.Fair,
		Held: layout.Held, Freed: layout.Freed,
		Couplings: s.couplingDocs(c.Found.Couplings, nil), Warnings: doubtDocs(layout),
		Survey: planjson.SurveyOf(s.Formatter, view.SurveyOf(s.Train)),
	}
	for i, r := range c.Cold {
		doc.Couplings[i].Cold = s.restDoc(i, &r)
		found := s.readingDoc(&view.Reading{Misalignment: t.Couplings[i].Found, Gap: t.Couplings[i].FoundGap})
		doc.Couplings[i].AsRead = &found
	}
	for i := range t.Machines {
		m := &t.Machines[i]
		d := planjson.Standing{Name: s.Machine(i), Held: m.Hold, Feet: []planjson.Room{}}
		for f := range m.Feet {
			foot, room := &m.Feet[f], &c.Rooms[i][f]
			r := planjson.Room{
				Name: s.Foot(i, f), X: s.Length(foot.X), Y: s.Length(foot.Y),
				Up: s.Room(room.Up), Down: s.Room(room.Down), Left: s.Room(room.Left), Right: s.Room(room.Right),
				Now: stands(room),
			}
			if !math.IsNaN(foot.Pack) {
				r.Pack = s.Packed(foot.Pack)
			}
			d.Feet = append(d.Feet, r)
		}
		doc.Machines = append(doc.Machines, d)
	}
	return planjson.Write(w, doc)
}
