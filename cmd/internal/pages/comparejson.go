package pages

import (
	"io"
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CompareJSON writes ways side by side for programs.
func CompareJSON(w io.Writer, c *view.Comparison, layout Page) error {
	t := c.Train
	s := formatterOf(t)
	found := t.Check(t.Stay())
	doc := planjson.Compare{
		Schema: planjson.CompareSchema, Title: s.Title(), Units: s.unitsDoc(), Found: words.Use(found.Worst()),
		Held: layout.Held, Freed: layout.Freed, Warnings: doubtDocs(layout),
	}
	for n := range c.Ways {
		doc.Ways = append(doc.Ways, s.wayDoc(&c.Ways[n]))
	}
	if all := c.Subsets; all != nil {
		doc.Subsets = &planjson.Subsets{Can: []planjson.Subset{}, Idle: all.Idle, Cannot: all.Cannot,
			Undecided: all.Undecided, Curve: []planjson.Fewer{}}
		for _, point := range all.Curve {
			doc.Subsets.Curve = append(doc.Subsets.Curve, planjson.Fewer{Moved: point.Moved, Total: s.Total(point.Total),
				Bound: s.Bound(point.Bound), Impossible: math.IsInf(point.Bound, 1)})
		}
		for _, sub := range all.Can {
			doc.Subsets.Can = append(doc.Subsets.Can, planjson.Subset{
				Machines: s.machines(sub.Machines), Total: s.Total(sub.Plan.Total), Bound: s.Bound(sub.Plan.Bound),
				Peak: s.Moved(sub.Plan.Largest), Use: words.Use(sub.Plan.Reached),
			})
		}
	}
	if c.Trade != nil {
		doc.Trade = s.tradeDoc(c.Trade)
	}
	return planjson.Write(w, doc)
}

func (s formatter) wayDoc(w *view.Way) planjson.Way {
	p := w.Plan
	d := planjson.Way{Kind: string(w.Kind), Strategy: string(w.Strategy), Status: p.Status.String(),
		Bound: s.Bound(p.Bound), Cut: words.Clean(p.Cut)}
	if w.Machine >= 0 {
		d.Machine = s.Machine(w.Machine)
	}
	for _, m := range p.Conflict {
		d.Clash = append(d.Clash, s.limitDoc(m.Limit))
	}
	for _, e := range p.Broken {
		d.Broken = append(d.Broken, planjson.End{Limit: s.limitDoc(e.Limit), Value: s.Limit(e.Kind, e.Value),
			Bound: s.Limit(e.Kind, e.Bound)})
	}
	if p.Moves == nil {
		return d
	}
	d.Total, d.Plain, d.Peak, d.Moved, d.Touched = s.Total(p.Total), s.Total(p.Plain), s.Moved(p.Largest),
		&p.Moved, &w.Feet
	d.Shims, d.Couplings = &planjson.Handled{Pieces: w.Pieces, All: w.AllPieces}, s.drivenDocs(w.Used)
	d.Use = &planjson.Aim{Aim: words.Use(p.Aim), Reached: words.Use(p.Reached)}
	if p.Status == view.Planned {
		d.Gap = words.Ceil(p.Gap, 4)
		d.First, d.FirstBound = s.first(p)
	}
	if p.Probability != nil {
		d.Chance = words.Floor(p.Probability.Within, 4)
	}
	if e := w.Nearest; e != nil {
		d.Reserve = &planjson.Reserve{Limit: s.limitDoc(e.Limit), Left: s.Room(e.Left)}
	}
	return d
}

// first is the measure of a strategy and what is proven of it; "" where it has
// none.
func (s formatter) first(p *view.Plan) (value, bound words.Number) {
	switch p.Strategy {
	case view.Minimax:
		return s.Moved(p.First), s.Room(p.FirstBound)
	case view.Closest:
		return words.Use(p.First), words.Floor(p.FirstBound, 3)
	}
	return words.Fixed(p.First, 0), words.Fixed(p.FirstBound, 0)
}
