package planjson

import (
	"io"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A Given is what is to be said of moves that someone gave.
type Given struct {
	Holds    bool     `json:"holds" about:"they keep every limit and every rule of the train file"`
	Broken   []End    `json:"broken" about:"limits that they break"`
	Misfits  []Misfit `json:"misfits" about:"numbers that can't be set as they are"`
	Remedies []Remedy `json:"remedies" about:"the one number that would mend each broken limit"`
	Limits   []End    `json:"limits" about:"every limit that the train file states"`
	Least    Least    `json:"least" about:"the plan that moves least"`
}

// A Misfit is a number that can't be set as it is.
type Misfit struct {
	Kind    string `json:"kind" about:"steps, apart, roll, axial, stock or least"`
	Machine string `json:"machine" about:"machine"`
	Foot    string `json:"foot,omitempty" about:"foot of it"`
	What    string `json:"what" about:"up, left or axial"`
	Is      Number `json:"is" about:"the number as given, signs as at a foot" unit:"move"`
	Nearest Number `json:"nearest" about:"nearest that can be set; null: no one number" unit:"move"`
	Breaks  bool   `json:"breaks" about:"it breaks a rule of the train file, not only a step"`
	Text    string `json:"text" about:"what is wrong, in words"`
}

// A Remedy is the one number that would mend a limit of a coupling.
type Remedy struct {
	Limit
	At    string   `json:"at,omitempty" about:"machine; left out: no single number would"`
	Feet  []string `json:"feet,omitempty" about:"feet of it"`
	What  string   `json:"what,omitempty" about:"up, left or axial"`
	From  Number   `json:"from,omitempty" about:"the number as given, signs as at a foot" unit:"move"`
	To    Number   `json:"to,omitempty" about:"the number that mends it, signs as at a foot" unit:"move"`
	Still int      `json:"still" about:"count of limits that are broken then"`
	Most  *Most    `json:"most,omitempty" about:"the number that makes most of it"`
}

// A Most is the number that makes most of what breaks a limit.
type Most struct {
	Machine string   `json:"machine" about:"machine"`
	Feet    []string `json:"feet" about:"feet of it"`
	What    string   `json:"what" about:"up, left or axial"`
	Is      Number   `json:"is" about:"the number as given, signs as at a foot" unit:"move"`
	Without Number   `json:"without" about:"what the limit's value would be without it" unit:"limit"`
}

// A Least is the plan that moves least.
type Least struct {
	Status string `json:"status" about:"status of that plan"`
	Total  Number `json:"total" about:"its total; null: none was found" unit:"weighted"`
	Bound  Number `json:"bound" about:"proven lower bound on it, rounded down" unit:"weighted"`
	Use    Number `json:"use" about:"share of the coupling limits that the bound is for" unit:"share"`
}

// WriteReplay writes what moves do that someone gave, in the form of a plan.
func WriteReplay(out io.Writer, r *view.Replayed, in *view.Input, texts Texts) error {
	w := fillerFor(r.Plan, in, texts)
	doc := w.plan(r.Plan)
	g := &Given{Holds: r.Holds, Broken: []End{}, Misfits: []Misfit{}, Remedies: []Remedy{}, Limits: []End{}}
	for _, e := range r.Broken {
		g.Broken = append(g.Broken, w.end(e))
	}
	for _, m := range r.Misfits {
		d := Misfit{Kind: string(m.Kind), Machine: w.Machine(m.Machine), What: m.What, Is: w.Moved(m.Is),
			Nearest: w.Moved(m.Nearest), Breaks: m.Kind.Breaks(), Text: texts.Misfit(r.Plan, m)}
		if m.Foot >= 0 {
			d.Foot = w.Foot(m.Machine, m.Foot)
		}
		g.Misfits = append(g.Misfits, d)
	}
	for _, m := range r.Remedies {
		d := Remedy{Limit: w.limit(m.Limit)}
		if m.Machine >= 0 {
			d.At, d.What, d.From, d.To, d.Still = w.Machine(m.Machine), m.What, w.Moved(m.From), w.Moved(m.To), m.Left
			d.Feet = w.Feet(m.Machine, m.Feet)
		}
		if s := m.Most; s.Machine >= 0 {
			d.Most = &Most{Machine: w.Machine(s.Machine), Feet: append([]string{}, w.Feet(s.Machine, s.Feet)...),
				What: s.What, Is: w.Moved(s.Is), Without: w.Limit(m.Kind, s.Without)}
		}
		g.Remedies = append(g.Remedies, d)
	}
	for _, e := range r.Limits {
		g.Limits = append(g.Limits, w.end(e))
	}
	b := r.Beside
	g.Least = Least{Status: b.Status.String(), Total: w.Total(b.Total), Bound: w.Bound(b.Bound),
		Use: words.Floor(b.Kept, 3)}
	doc.Given = g
	return Write(out, doc)
}
