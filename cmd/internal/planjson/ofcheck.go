package planjson

import (
	"io"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// WriteCheck writes a train as it was found, for programs.
func WriteCheck(out io.Writer, c *view.Check, in *view.Input) error {
	w := filler{Formatter: words.FormatterOf(c.Train), in: in}
	doc := Check{
		Schema: CheckSchema, Title: w.Title(), Units: w.units(), Sides: w.sides(),
		Use: words.Use(c.Worst), Within: c.Worst <= 1+words.Fair,
		Held: in.Held, Freed: in.Freed,
		Couplings: w.couplings(c.Readings, c.Found.Couplings, nil, c.Warm), Warnings: warningsOf(in),
		Survey: SurveyOf(w.Formatter, c.Survey),
	}
	for i, r := range c.Cold {
		doc.Couplings[i].Cold = w.rest(i, &r)
		c := &c.Train.Couplings[i]
		found := w.reading(&view.Reading{Misalignment: c.Found, Gap: c.FoundGap})
		doc.Couplings[i].AsRead = &found
	}
	for i := range c.Train.Machines {
		m := &c.Train.Machines[i]
		d := MachineFound{Name: w.Machine(i), Held: m.Hold, Feet: []Room{}}
		for f := range m.Feet {
			foot, room := &m.Feet[f], &c.Rooms[i][f]
			r := Room{
				Name: w.Foot(i, f), X: w.Length(foot.X), Y: w.Length(foot.Y),
				Up: w.Room(room.Up), Down: w.Room(room.Down), Left: w.Room(room.Left), Right: w.Room(room.Right),
				HoleCold: w.Room(room.HoleCold), HoleHot: w.Room(room.HoleHot),
				Now: room.AtEnd(),
			}
			if !math.IsNaN(foot.Pack) {
				r.Pack = w.Packed(foot.Pack)
			}
			d.Feet = append(d.Feet, r)
		}
		doc.Machines = append(doc.Machines, d)
	}
	return Write(out, doc)
}
