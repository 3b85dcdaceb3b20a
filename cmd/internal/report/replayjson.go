package report

import (
	"io"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// What is to be said of moves that someone gave.
type givenDoc struct {
	Holds    bool        `json:"holds"` // every limit and every rule of the file
	Broken   []endDoc    `json:"broken"`
	Misfits  []misfitDoc `json:"misfits"`
	Remedies []remedyDoc `json:"remedies"`
	Limits   []endDoc    `json:"limits"` // every limit that the file states
	Least    leastDoc    `json:"least"`
}

// A number that can't be set as it is; in moves.
type misfitDoc struct {
	Kind    optimize.MisfitKind `json:"kind"`
	Machine string              `json:"machine"`
	Foot    string              `json:"foot,omitempty"`
	What    string              `json:"what"` // up, left or axial
	Is      words.Number        `json:"is"`
	Nearest words.Number        `json:"nearest"` // that can be set; null: there is no one such number
	Breaks  bool                `json:"breaks"`  // a rule of the file, not only a step
	Text    string              `json:"text"`
}

// The one number that would mend a limit of a coupling; in moves.
type remedyDoc struct {
	limitDoc
	At    string       `json:"at,omitempty"` // machine; left out: no single number would
	Feet  []string     `json:"feet,omitempty"`
	What  string       `json:"what,omitempty"`
	From  words.Number `json:"from,omitempty"`
	To    words.Number `json:"to,omitempty"`
	Still int          `json:"still"` // limits that are broken then
	Most  *mostDoc     `json:"most,omitempty"`
}

// The number that makes most of it.
type mostDoc struct {
	Machine string       `json:"machine"`
	Feet    []string     `json:"feet"`
	What    string       `json:"what"`
	Is      words.Number `json:"is"`      // move
	Without words.Number `json:"without"` // what the limit's value would be
}

// The plan that moves least.
type leastDoc struct {
	Status string       `json:"status"`
	Total  words.Number `json:"total"`
	Bound  words.Number `json:"bound"`
	Use    words.Number `json:"use"` // share of the coupling limits that the bound speaks of
}

// ReplayJSON writes what moves do that someone gave, in the form of a plan.
func ReplayJSON(w io.Writer, r *optimize.Replayed, layout Page) error {
	t := &planText{formatter: formatterFor(r.Plan), plan: r.Plan}
	doc := planDocument(r.Plan, layout)
	end := func(e optimize.Constraint) endDoc {
		return endDoc{t.limitDoc(e.Limit), t.value(e.Kind, e.Value), t.value(e.Kind, e.Bound)}
	}
	g := &givenDoc{Holds: r.Holds(), Broken: []endDoc{}, Misfits: []misfitDoc{}, Remedies: []remedyDoc{}, Limits: []endDoc{}}
	for _, e := range r.Broken {
		g.Broken = append(g.Broken, end(e))
	}
	for _, m := range r.Misfits {
		d := misfitDoc{Kind: m.Kind, Machine: t.Machine(m.Machine), What: m.What, Is: t.Moved(m.Is), Nearest: t.Moved(m.Nearest), Breaks: m.Kind.Breaks(), Text: t.misfit(m)}
		if m.Foot >= 0 {
			d.Foot = t.Foot(m.Machine, m.Foot)
		}
		g.Misfits = append(g.Misfits, d)
	}
	for _, m := range r.Remedies {
		d := remedyDoc{limitDoc: t.limitDoc(m.Limit)}
		if m.Machine >= 0 {
			d.At, d.What, d.From, d.To, d.Still = t.Machine(m.Machine), m.What, t.Moved(m.From), t.Moved(m.To), m.Left
			d.Feet = t.feetNames(m.Machine, m.Feet)
		}
		if s := m.Most; s.Machine >= 0 {
			d.Most = &mostDoc{t.Machine(s.Machine), t.feetNames(s.Machine, s.Feet), s.What, t.Moved(s.Is), t.value(m.Kind, s.Without)}
		}
		g.Remedies = append(g.Remedies, d)
	}
	for _, e := range r.Limits() {
		g.Limits = append(g.Limits, end(e))
	}
	b := r.Beside
	g.Least = leastDoc{Status: b.Status.String(), Total: t.Total(b.Total), Bound: t.Bound(b.Bound), Use: words.Floor(b.Kept, 3)}
	doc.Given = g
	return write(w, doc)
}
