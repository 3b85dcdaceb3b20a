package planjson

import (
	"io"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CheckSchema names the form of a train as found.
const CheckSchema = "leastmove.check/1"

// A Check is what `check` writes: a train as found.
type Check struct {
	Schema    string         `json:"schema" about:"name and version of this form"`
	Title     string         `json:"title" about:"title of the train file"`
	Units     Units          `json:"units" about:"units of all numbers here"`
	Sides     Sides          `json:"sides" about:"the site's own words for the sides"`
	Use       Number         `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
	Within    bool           `json:"within" about:"every coupling is within its limits"`
	Held      []string       `json:"held,omitempty" about:"machines held on the command line"`
	Freed     []string       `json:"freed,omitempty" about:"machines freed on the command line"`
	Machines  []MachineFound `json:"machines" about:"every machine, in the order of the train"`
	Couplings []Coupling     `json:"couplings" about:"every coupling, in the order of the train"`
	Survey    *Survey        `json:"survey,omitempty" about:"what the points of a survey come to"`
	Warnings  []Warning      `json:"warnings" about:"what to check in the train file"`
}

// A MachineFound is one machine as found.
type MachineFound struct {
	Name string `json:"name" about:"name in the train file"`
	Held bool   `json:"held" about:"it may not be moved"`
	Feet []Room `json:"feet" about:"every foot"`
}

// A Room is how far a foot can go each way on its own.
type Room struct {
	Name     string   `json:"name" about:"name in the train file"`
	X        Number   `json:"x" about:"station of the machine's own, + toward the last machine" unit:"length"`
	Y        Number   `json:"y" about:"position, + left of the machine's centreline" unit:"length"`
	Pack     Number   `json:"pack" about:"shim pack under it; null: not stated" unit:"move"`
	Up       Number   `json:"up" about:"room upward, - past its end; null: not stated" unit:"move"`
	Down     Number   `json:"down" about:"room downward, - past its end; null: not stated" unit:"move"`
	Left     Number   `json:"left" about:"room to the left, - past its end; null: not stated" unit:"move"`
	Right    Number   `json:"right" about:"room to the right, - past its end; null: not stated" unit:"move"`
	HoleCold Number   `json:"hole_cold" about:"from bolt to hole's edge, cold; null: no hole stated" unit:"move"`
	HoleHot  Number   `json:"hole_hot" about:"the same in the condition with the least" unit:"move"`
	Now      []string `json:"now,omitempty" about:"limits that it is at, in words"`
}

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
