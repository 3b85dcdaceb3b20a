package planjson

import (
	"io"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CompareSchema names the form of ways side by side.
const CompareSchema = "leastmove.compare/1"

// A Compare is what `compare` writes: ways of moving a train side by side.
type Compare struct {
	Schema   string    `json:"schema" about:"name and version of this form"`
	Title    string    `json:"title" about:"title of the train file"`
	Units    Units     `json:"units" about:"units of all numbers here"`
	Found    Number    `json:"found" about:"share of the limit that is used most before the moves" unit:"share"`
	Held     []string  `json:"held,omitempty" about:"machines held on the command line"`
	Freed    []string  `json:"freed,omitempty" about:"machines freed on the command line"`
	Ways     []Way     `json:"ways" about:"the ways"`
	Subsets  *Subsets  `json:"subsets,omitempty" about:"which machines can do it with no others moved"`
	Trade    *Trade    `json:"trade,omitempty" about:"Pareto front: total against the worst share of a limit"`
	Warnings []Warning `json:"warnings" about:"what to check in the train file"`
}

// A Way is one way of moving a train.
type Way struct {
	Kind       string   `json:"kind" about:"strategy, hold, cascade or straight"`
	Strategy   string   `json:"strategy,omitempty" about:"what was made least"`
	Machine    string   `json:"machine,omitempty" about:"machine that is held, or where a cascade starts"`
	Status     string   `json:"status" about:"status of its plan"`
	Total      Number   `json:"total,omitempty" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Plain      Number   `json:"plain,omitempty" about:"sum of all moves, in size, without weights" unit:"move"`
	Bound      Number   `json:"bound,omitempty" about:"proven lower bound on the total, rounded down" unit:"weighted"`
	Gap        Number   `json:"gap,omitempty" about:"part of the total above the bound, rounded up" unit:"share"`
	Peak       Number   `json:"peak,omitempty" about:"largest move at a foot, in size" unit:"move"`
	Moved      *int     `json:"moved,omitempty" about:"count of machines that move"`
	Touched    *int     `json:"touched,omitempty" about:"count of feet that move"`
	Shims      *Handled `json:"shims,omitempty" about:"shims taken out and put in"`
	Use        *Aim     `json:"use,omitempty" about:"shares of the coupling limits that are used"`
	Couplings  []Driven `json:"couplings,omitempty" about:"what is used of the limits of every coupling"`
	First      Number   `json:"first,omitempty" about:"the strategy's own measure" unit:"measure"`
	FirstBound Number   `json:"first_bound,omitempty" about:"what is proven of that measure" unit:"measure"`
	Reserve    *Reserve `json:"reserve,omitempty" about:"limit of a foot or nozzle with the least room left"`
	Chance     Number   `json:"chance,omitempty" about:"probability of ending within limits, rounded down" unit:"share"`
	Clash      []Limit  `json:"clash,omitempty" about:"conflict: limits that can't be kept together"`
	Broken     []End    `json:"broken,omitempty" about:"limits that it breaks"`
	Cut        string   `json:"cut,omitempty" about:"why the search ended early"`
}

// A Driven is what is used of the limits of one coupling.
type Driven struct {
	Name   string `json:"name" about:"name of the coupling"`
	Driven string `json:"driven_by" about:"governing condition: most is used in it"`
	Uses   []Use  `json:"uses" about:"every condition"`
}

// A Use is what is used of the limits of a coupling in one condition.
type Use struct {
	Condition string `json:"condition" about:"name of the condition"`
	Use       Number `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
}

// A Handled is how many shims are taken out and put in.
type Handled struct {
	Pieces int  `json:"pieces" about:"count of shims"`
	All    bool `json:"all" about:"false: there may be more"`
}

// A Reserve is a limit with the room that is left.
type Reserve struct {
	Limit
	Left Number `json:"left" about:"room left, - where it is broken" unit:"move"`
}

// Subsets are which machines can do it with no others moved.
type Subsets struct {
	Can       []Subset `json:"can" about:"sets that can do it"`
	Idle      int      `json:"idle" about:"count of sets that could but need not move all of theirs"`
	Cannot    int      `json:"cannot" about:"count of sets that cannot, proven"`
	Undecided int      `json:"undecided" about:"count of sets of which nothing is known"`
	Curve     []Fewer  `json:"curve" about:"total against count of machines moved"`
}

// A Fewer is the total where only so many machines may move.
type Fewer struct {
	Moved      int    `json:"moved" about:"count of machines, at most"`
	Total      Number `json:"total" about:"total; null: no plan was found" unit:"weighted"`
	Bound      Number `json:"bound" about:"proven lower bound on it, rounded down; null: not known" unit:"weighted"`
	Impossible bool   `json:"impossible" about:"proven: no plan moves as few"`
}

// A Subset is machines that can do it with no others moved.
type Subset struct {
	Machines []string `json:"machines" about:"machines that are moved"`
	Total    Number   `json:"total" about:"total, rounded up" unit:"weighted"`
	Bound    Number   `json:"bound" about:"proven lower bound on it, rounded down" unit:"weighted"`
	Peak     Number   `json:"peak" about:"largest move at a foot, in size" unit:"move"`
	Use      Number   `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
}

// A Trade is the Pareto front: the total against the worst share of a limit.
type Trade struct {
	Points []TradePoint `json:"points" about:"its points"`
	Convex bool         `json:"convex" about:"relaxed is convex between the points, as it has to be"`
	Sag    Number       `json:"sag" about:"how far relaxed lies below its chords at most; null: not known" unit:"weighted"`
	Knee   *int         `json:"knee" about:"index in points, from 0, where it bends most; null: none"`
}

// A TradePoint is a point of the Pareto front.
type TradePoint struct {
	Use     Number `json:"use" about:"largest share of a limit that was asked for" unit:"share"`
	Reached Number `json:"reached" about:"largest share of a limit by the plan, rounded up" unit:"share"`
	Total   Number `json:"total" about:"total; null: no plan was found" unit:"weighted"`
	Bound   Number `json:"bound" about:"proven lower bound on it, rounded down" unit:"weighted"`
	Relaxed Number `json:"relaxed" about:"proven lower bound without whole steps" unit:"weighted"`
	Peak    Number `json:"peak" about:"largest move at a foot, in size" unit:"move"`
	Moved   int    `json:"moved" about:"count of machines that move"`
}

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
