package planjson

import (
	"io"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// WriteCompare writes ways side by side, for programs.
func WriteCompare(out io.Writer, c *view.Comparison, in *view.Input) error {
	w := filler{Formatter: words.FormatterOf(c.Train), in: in}
	doc := Compare{
		Schema: CompareSchema, Title: w.Title(), Units: w.units(), Found: words.Use(c.AsFound.Worst),
		Held: in.Held, Freed: in.Freed, Warnings: warningsOf(in),
	}
	for n := range c.Ways {
		doc.Ways = append(doc.Ways, w.way(&c.Ways[n]))
	}
	if all := c.Subsets; all != nil {
		doc.Subsets = &Subsets{Can: []Subset{}, Idle: all.Idle, Cannot: all.Cannot,
			Undecided: all.Undecided, Curve: []Fewer{}}
		for _, point := range all.Curve {
			doc.Subsets.Curve = append(doc.Subsets.Curve, Fewer{Moved: point.Moved, Total: w.Total(point.Total),
				Bound: w.Bound(point.Bound), Impossible: math.IsInf(point.Bound, 1)})
		}
		for _, sub := range all.Can {
			doc.Subsets.Can = append(doc.Subsets.Can, Subset{
				Machines: append([]string{}, w.Machines(sub.Machines)...), Total: w.Total(sub.Plan.Total),
				Bound: w.Bound(sub.Plan.Bound), Peak: w.Moved(sub.Plan.Largest), Use: words.Use(sub.Plan.Reached),
			})
		}
	}
	if c.Trade != nil {
		doc.Trade = w.trade(c.Trade)
	}
	return Write(out, doc)
}

func (w filler) way(y *view.Way) Way {
	p := y.Plan
	d := Way{Kind: string(y.Kind), Strategy: string(y.Strategy), Status: p.Status.String(),
		Bound: w.Bound(p.Bound), Cut: words.Clean(p.Cut)}
	if y.Machine >= 0 {
		d.Machine = w.Machine(y.Machine)
	}
	for _, m := range p.Conflict {
		d.Clash = append(d.Clash, w.limit(m.Limit))
	}
	for _, e := range p.Broken {
		d.Broken = append(d.Broken, w.end(e))
	}
	if p.Moves == nil {
		return d
	}
	d.Total, d.Plain, d.Peak, d.Moved, d.Touched = w.Total(p.Total), w.Total(p.Plain), w.Moved(p.Largest),
		&p.Moved, &y.Feet
	d.Shims, d.Couplings = &Handled{Pieces: y.Pieces, All: y.AllPieces}, w.driven(p.Used)
	d.Use = &Aim{Aim: words.Use(p.Aim), Reached: words.Use(p.Reached)}
	if p.Status == view.Planned {
		d.Gap = words.Ceil(p.Gap, 4)
		d.First, d.FirstBound = w.Measured(p.FirstIn, p.First, p.FirstBound)
	}
	if p.Probability != nil {
		d.Chance = words.Floor(p.Probability.Within, 4)
	}
	if e := y.Nearest; e != nil {
		d.Reserve = &Reserve{Limit: w.limit(e.Limit), Left: w.Room(e.Left)}
	}
	return d
}

func (w filler) driven(couplings []view.UsedOver) []Driven {
	var docs []Driven
	for i, u := range couplings {
		d := Driven{Name: w.Coupling(i), Driven: w.Condition(u.Governing)}
		for k, share := range u.Shares {
			d.Uses = append(d.Uses, Use{Condition: w.Condition(k), Use: words.Use(share)})
		}
		docs = append(docs, d)
	}
	return docs
}

func (w filler) trade(all *view.Trade) *Trade {
	d := &Trade{Points: []TradePoint{}, Convex: all.Convex, Sag: w.Total(all.Sag)}
	if all.Knee >= 0 {
		d.Knee = &all.Knee
	}
	for _, p := range all.Points {
		d.Points = append(d.Points, TradePoint{Use: words.Use(p.Use), Reached: words.Use(p.Reached),
			Total: w.Total(p.Total), Bound: w.Bound(p.Bound), Relaxed: w.Bound(p.Relaxed), Peak: w.Moved(p.Largest),
			Moved: p.Moved})
	}
	return d
}
