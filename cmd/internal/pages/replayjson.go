package pages

import (
	"io"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// ReplayJSON writes what moves do that someone gave, in the form of a plan.
func ReplayJSON(w io.Writer, r *view.Replayed, layout Page) error {
	t := &planText{formatter: formatterFor(r.Plan), plan: r.Plan}
	doc := planDocument(r.Plan, layout)
	end := func(e view.Constraint) planjson.End {
		return planjson.End{Limit: t.limitDoc(e.Limit), Value: t.Limit(e.Kind, e.Value), Bound: t.Limit(e.Kind, e.Bound)}
	}
	g := &planjson.Given{Holds: r.Holds, Broken: []planjson.End{}, Misfits: []planjson.Misfit{},
		Remedies: []planjson.Remedy{}, Limits: []planjson.End{}}
	for _, e := range r.Broken {
		g.Broken = append(g.Broken, end(e))
	}
	for _, m := range r.Misfits {
		d := planjson.Misfit{Kind: string(m.Kind), Machine: t.Machine(m.Machine), What: m.What, Is: t.Moved(m.Is),
			Nearest: t.Moved(m.Nearest), Breaks: m.Kind.Breaks(), Text: t.misfit(m)}
		if m.Foot >= 0 {
			d.Foot = t.Foot(m.Machine, m.Foot)
		}
		g.Misfits = append(g.Misfits, d)
	}
	for _, m := range r.Remedies {
		d := planjson.Remedy{Limit: t.limitDoc(m.Limit)}
		if m.Machine >= 0 {
			d.At, d.What, d.From, d.To, d.Still = t.Machine(m.Machine), m.What, t.Moved(m.From), t.Moved(m.To), m.Left
			d.Feet = t.feetNames(m.Machine, m.Feet)
		}
		if s := m.Most; s.Machine >= 0 {
			d.Most = &planjson.Most{Machine: t.Machine(s.Machine), Feet: t.feetNames(s.Machine, s.Feet), What: s.What,
				Is: t.Moved(s.Is), Without: t.Limit(m.Kind, s.Without)}
		}
		g.Remedies = append(g.Remedies, d)
	}
	for _, e := range r.Limits {
		g.Limits = append(g.Limits, end(e))
	}
	b := r.Beside
	g.Least = planjson.Least{Status: b.Status.String(), Total: t.Total(b.Total), Bound: t.Bound(b.Bound),
		Use: words.Floor(b.Kept, 3)}
	doc.Given = g
	return planjson.Write(w, doc)
}
