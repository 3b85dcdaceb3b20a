package planjson

import (
	"io"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

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
