package report

import (
	"io"
	"math"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// compareSchema names the form of ways side by side in JSON.
const compareSchema = "leastmove.compare/1"

type compareDoc struct {
	Schema   string       `json:"schema"`
	Title    string       `json:"title"`
	Units    unitsDoc     `json:"units"`
	Found    words.Number `json:"found"` // share of a limit that is taken up most before the moves
	Held     []string     `json:"held,omitempty"`
	Freed    []string     `json:"freed,omitempty"`
	Ways     []wayDoc     `json:"ways"`
	Subsets  *subsetsDoc  `json:"subsets,omitempty"`
	Trade    *tradeDoc    `json:"trade,omitempty"`
	Warnings []warningDoc `json:"warnings"`
}

// A number that does not exist is null or left out.
type wayDoc struct {
	Kind       optimize.WayKind  `json:"kind"`
	Strategy   optimize.Strategy `json:"strategy,omitempty"`
	Machine    string            `json:"machine,omitempty"` // held, or where a cascade starts
	Status     string            `json:"status"`
	Total      words.Number      `json:"total,omitempty"` // moves, weights of the file in it
	Plain      words.Number      `json:"plain,omitempty"` // moves, without weights
	Bound      words.Number      `json:"bound,omitempty"` // moves, proven; rounded down
	Gap        words.Number      `json:"gap,omitempty"`   // share of total between bound and total; rounded up
	Peak       words.Number      `json:"peak,omitempty"`  // moves, largest at a foot
	Moved      *int              `json:"moved,omitempty"` // machines
	Touched    *int              `json:"touched,omitempty"`
	Shims      *handledDoc       `json:"shims,omitempty"`
	Use        *aimDoc           `json:"use,omitempty"`
	Couplings  []drivenDoc       `json:"couplings,omitempty"`   // what is taken up of their limits
	First      words.Number      `json:"first,omitempty"`       // the strategy's own measure
	FirstBound words.Number      `json:"first_bound,omitempty"` // proven
	Reserve    *reserveDoc       `json:"reserve,omitempty"`
	Chance     words.Number      `json:"chance,omitempty"` // that all couplings end within limits; rounded down
	Clash      []limitDoc        `json:"clash,omitempty"`
	Broken     []endDoc          `json:"broken,omitempty"`
	Cut        string            `json:"cut,omitempty"`
}

// handledDoc is how many shims are taken out and put in.
type handledDoc struct {
	Pieces int  `json:"pieces"`
	All    bool `json:"all"` // false: there may be more
}

type reserveDoc struct {
	limitDoc
	Left words.Number `json:"left"` // moves, negative where it is broken
}

type subsetsDoc struct {
	Can       []subsetDoc `json:"can"`
	Idle      int         `json:"idle"`
	Cannot    int         `json:"cannot"`
	Undecided int         `json:"undecided"`
	Curve     []fewerDoc  `json:"curve"` // total against machines moved
}

type fewerDoc struct {
	Moved      int          `json:"moved"`      // machines, at most
	Total      words.Number `json:"total"`      // moves; null: no plan was found
	Bound      words.Number `json:"bound"`      // moves, proven; null: not known
	Impossible bool         `json:"impossible"` // proven: no plan moves as few
}

type subsetDoc struct {
	Machines []string     `json:"machines"`
	Total    words.Number `json:"total"`
	Bound    words.Number `json:"bound"`
	Peak     words.Number `json:"peak"`
	Use      words.Number `json:"use"`
}

// CompareJSON writes ways side by side for programs.
func CompareJSON(w io.Writer, c *Comparison, layout Page) error {
	t := c.Ways[0].Plan.Train
	s := formatterOf(t)
	found := t.Check(t.Stay())
	doc := compareDoc{
		Schema: compareSchema, Title: s.Title(), Units: s.unitsDoc(), Found: words.Use(found.Worst()),
		Held: layout.Held, Freed: layout.Freed, Warnings: doubtDocs(layout),
	}
	for _, way := range c.Ways {
		doc.Ways = append(doc.Ways, s.wayDoc(way))
	}
	if all := c.Subsets; all != nil {
		doc.Subsets = &subsetsDoc{Can: []subsetDoc{}, Idle: all.Idle, Cannot: all.Cannot, Undecided: all.Undecided, Curve: []fewerDoc{}}
		for _, point := range all.Curve {
			doc.Subsets.Curve = append(doc.Subsets.Curve, fewerDoc{point.Moved, s.Total(point.Total), s.Bound(point.Bound), math.IsInf(point.Bound, 1)})
		}
		for _, sub := range all.Can {
			doc.Subsets.Can = append(doc.Subsets.Can, subsetDoc{
				s.machines(sub.Machines), s.Total(sub.Plan.Total), s.Bound(sub.Plan.Bound), s.Moved(sub.Plan.Largest), words.Use(sub.Plan.Reached),
			})
		}
	}
	if c.Trade != nil {
		doc.Trade = s.tradeDoc(c.Trade)
	}
	return write(w, doc)
}

func (s formatter) wayDoc(w optimize.Way) wayDoc {
	p := w.Plan
	d := wayDoc{Kind: w.Kind, Strategy: w.Strategy, Status: p.Status.String(), Bound: s.Bound(p.Bound), Cut: words.Clean(p.Cut)}
	if w.Machine >= 0 {
		d.Machine = s.Machine(w.Machine)
	}
	for _, m := range p.Conflict {
		d.Clash = append(d.Clash, s.limitDoc(m.Limit))
	}
	for _, e := range p.Broken {
		d.Broken = append(d.Broken, endDoc{s.limitDoc(e.Limit), s.value(e.Kind, e.Value), s.value(e.Kind, e.Bound)})
	}
	if p.Moves == nil {
		return d
	}
	touched := p.FeetMoved()
	d.Total, d.Plain, d.Peak, d.Moved, d.Touched = s.Total(p.Total), s.Total(p.Plain), s.Moved(p.Largest), &p.Moved, &touched
	pieces, all := p.Handled()
	d.Shims, d.Couplings = &handledDoc{pieces, all}, s.drivenDocs(p.Planned.Couplings)
	d.Use = &aimDoc{Aim: words.Use(p.Aim), Reached: words.Use(p.Reached)}
	if p.Status == optimize.Planned {
		d.Gap = words.Ceil(gapOf(p), 4)
		d.First, d.FirstBound = s.first(p)
	}
	if p.Probability != nil {
		d.Chance = words.Floor(p.Probability.Within, 4)
	}
	if e, ok := p.Reserve(); ok {
		d.Reserve = &reserveDoc{s.limitDoc(e.Limit), s.roomOf(e)}
	}
	return d
}

// first is the measure of a strategy and what is proven of it; "" where it has
// none.
func (s formatter) first(p *optimize.Plan) (value, bound words.Number) {
	switch p.Strategy {
	case optimize.Minimax:
		return s.Moved(p.First), s.Room(p.FirstBound)
	case optimize.Closest:
		return words.Use(p.First), words.Floor(p.FirstBound, 3)
	}
	return words.Fixed(p.First, 0), words.Fixed(p.FirstBound, 0)
}
