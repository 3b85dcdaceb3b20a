package report

import (
	"io"
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// checkSchema names the form of a train as found in JSON.
const checkSchema = "leastmove.check/1"

// CheckJSON writes a train as it was found for programs.
func CheckJSON(w io.Writer, t *train.Train, layout Page) error {
	s := formatterOf(t)
	found := t.Check(t.Stay())
	doc := checkDoc{
		Schema: checkSchema, Title: s.Title(), Units: s.unitsDoc(), Sides: s.sidesDoc(),
		Use: words.Use(found.Worst()), Within: found.Worst() <= 1+words.Fair,
		Held: layout.Held, Freed: layout.Freed,
		Couplings: s.couplingDocs(found.Couplings, nil), Warnings: doubtDocs(layout), Survey: s.surveyDoc(),
	}
	for i, r := range t.Cold() {
		doc.Couplings[i].Cold = s.restDoc(i, &r)
	}
	for i := range t.Machines {
		m := &t.Machines[i]
		d := standingDoc{Name: s.Machine(i), Held: m.Hold, Feet: []roomDoc{}}
		for f := range m.Feet {
			foot, room := &m.Feet[f], roomOf(t, i, f)
			r := roomDoc{
				Name: s.Foot(i, f), X: s.Length(foot.X), Y: s.Length(foot.Y),
				Up: s.Room(room.Up), Down: s.Room(room.Down), Left: s.Room(room.Left), Right: s.Room(room.Right),
				Now: s.stands(*foot, room),
			}
			if !math.IsNaN(foot.Pack) {
				r.Pack = s.Packed(foot.Pack)
			}
			d.Feet = append(d.Feet, r)
		}
		doc.Machines = append(doc.Machines, d)
	}
	return write(w, doc)
}

type checkDoc struct {
	Schema    string        `json:"schema"`
	Title     string        `json:"title"`
	Units     unitsDoc      `json:"units"`
	Sides     sidesDoc      `json:"sides"`
	Use       words.Number  `json:"use"` // share of a limit that is taken up most
	Within    bool          `json:"within"`
	Held      []string      `json:"held,omitempty"` // on the command line
	Freed     []string      `json:"freed,omitempty"`
	Machines  []standingDoc `json:"machines"`
	Couplings []couplingDoc `json:"couplings"`
	Survey    *surveyDoc    `json:"survey,omitempty"`
	Warnings  []warningDoc  `json:"warnings"`
}

type standingDoc struct {
	Name string    `json:"name"`
	Held bool      `json:"held"`
	Feet []roomDoc `json:"feet"`
}

// How far a foot can go each way on its own; null: not stated.
type roomDoc struct {
	Name  string       `json:"name"`
	X     words.Number `json:"x"`    // length, in the machine's own stations
	Y     words.Number `json:"y"`    // length, + left of the machine's centreline
	Pack  words.Number `json:"pack"` // move, shims under it
	Up    words.Number `json:"up"`   // move; negative: how far it is past its end
	Down  words.Number `json:"down"`
	Left  words.Number `json:"left"`
	Right words.Number `json:"right"`
	Now   []string     `json:"now,omitempty"` // limits that it stands at, in words
}
