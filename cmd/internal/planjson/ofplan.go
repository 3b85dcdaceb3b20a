package planjson

import (
	"crypto/sha256"
	"fmt"
	"io"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Texts are the sentences of a document, which pages have too.
type Texts interface {
	Option(*view.Plan, view.Relaxation) string    // an option: what to do
	Misfit(*view.Plan, view.Misfit) string        // a number of a plan that can't be set
	Suspect(*view.Verified, *view.Suspect) string // what may have gone otherwise than planned
	Assumed(*view.Verified) []string              // errors that nothing states
	Differences(*view.Verified) []string          // between plan and train file
	UsedUp(*view.Verified) []string               // what the plan used, and the train file does not say
}

// A filler fills documents of one train from views of it.
type filler struct {
	words.Formatter
	in    *view.Input
	texts Texts
}

// WritePlan writes a plan for programs, with the verdict on it and other plans where they were asked for. A
// number that does not exist is null or left out.
func WritePlan(out io.Writer, p *view.Plan, in *view.Input, texts Texts) error {
	w := fillerFor(p, in, texts)
	doc := w.plan(p)
	var err error
	if doc.Called, err = called(doc); err != nil {
		return err
	}
	if p.Others != nil {
		doc.Verdict, doc.Plans = w.verdict(p), w.otherPlans(p)
	}
	return Write(out, doc)
}

// NumberOf tells one plan from another: sheets and reports bear it.
func NumberOf(p *view.Plan, in *view.Input, texts Texts) (string, error) {
	return called(fillerFor(p, in, texts).plan(p))
}

// called is the first digits of the SHA-256 of a plan as it is written, without number, verdict and other plans.
func called(doc Plan) (string, error) {
	const digits = 8 // enough to tell the plans of a site from each other
	sum := sha256.New()
	if err := Write(sum, doc); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x", sum.Sum(nil))[:digits], nil
}

// fillerFor is that of a plan's train.
func fillerFor(p *view.Plan, in *view.Input, texts Texts) filler {
	return filler{words.FormatterOf(p.Train).WithMoves(p.Moves), in, texts}
}

// plan is a plan as it is written.
func (w filler) plan(p *view.Plan) Plan {
	doc := Plan{
		Schema: PlanSchema, Title: w.Title(), Units: w.units(), Sides: w.sides(),
		Status: p.Status.String(), Cut: words.Clean(p.Cut), Solves: p.Solves,
		Bound: w.Bound(p.Bound), Lowest: words.Floor(p.Lowest, 3),
		Use:       Aim{Aim: words.Use(p.Aim), Reached: words.Use(p.Reached), Kept: words.Floor(p.Kept, 3)},
		Couplings: w.couplings(p.Readings, p.Found.Couplings, p.Planned.Couplings, p.Warm),
		Unstated:  []string{}, Warnings: warningsOf(w.in),
		Provisional: p.Provisional, Hopeless: p.Hopeless, Chance: w.chance(p.Probability), Assurance: w.assurance(p),
		Survey: SurveyOf(w.Formatter, p.Survey),
	}
	if r := p.Relieved; r != nil {
		doc.Relieved = &Relieved{Number: r.Number, Kind: string(r.Kind), Text: w.texts.Option(p, r.Relaxation),
			Edits: w.edits(r.Edits)}
	}
	w.beside(&doc, p)
	if p.Moves != nil {
		for i, r := range p.AtRest {
			doc.Couplings[i].Rest = w.rest(i, &r)
		}
		doc.Total, doc.Plain, doc.Least = w.Total(p.Total), w.Total(p.Plain), w.Total(p.Least)
		if p.Strategy != "" && p.Strategy != view.LeastTotal {
			doc.Strategy = string(p.Strategy)
			doc.First, doc.FirstBound = w.Measured(p.FirstIn, p.First, p.FirstBound)
		}
		if first := w.Bound(p.FirstOrderBound); p.FirstOrderBound > p.Bound && first != doc.Bound {
			doc.FirstOrderBound = first
		}
		doc.Gap, doc.Peak, doc.Moved = words.Ceil(p.Gap, 4), w.Moved(p.Largest), &p.Moved
	}
	doc.FirstOrder = p.FirstOrder
	if n := p.Nearest; n != nil {
		doc.Nearest = &Nearest{Total: w.Total(n.Total), Reached: words.Ceil(n.Reached, 5)}
		for i := range n.Moves {
			doc.Nearest.Machines = append(doc.Nearest.Machines, w.machine(n, i))
		}
	}
	for i := range p.Moves {
		doc.Machines = append(doc.Machines, w.machine(p, i))
	}
	for _, e := range p.Ends {
		doc.Ends = append(doc.Ends, w.end(e))
	}
	for _, u := range p.Unstated {
		doc.Unstated = append(doc.Unstated, words.Clean(u))
	}
	return doc
}

func (w filler) units() Units {
	return Units{Length: w.LengthUnit(), Move: w.MoveUnit(), Angle: "mrad"}
}

func (w filler) sides() Sides {
	return Sides{Left: words.Clean(w.Train.Sides.Left), Right: words.Clean(w.Train.Sides.Right)}
}

func (w filler) limit(l view.Limit) Limit {
	d := Limit{Kind: string(l.Kind)}
	if l.Machine >= 0 {
		d.Machine = w.Machine(l.Machine)
		if l.Foot >= 0 {
			d.Foot = w.Foot(l.Machine, l.Foot)
		}
		if l.Nozzle >= 0 {
			d.Nozzle = w.Nozzle(l.Machine, l.Nozzle)
		}
	}
	if l.Coupling >= 0 {
		d.Coupling = w.Coupling(l.Coupling)
	}
	if l.Condition >= 0 {
		d.Condition = w.Condition(l.Condition)
	}
	return d
}

// end is a limit with what is used of it.
func (w filler) end(e view.Constraint) End {
	return End{Limit: w.limit(e.Limit), Value: w.Limit(e.Kind, e.Value), Bound: w.Limit(e.Kind, e.Bound)}
}

func warningsOf(in *view.Input) []Warning {
	docs := []Warning{}
	for _, f := range in.Warnings {
		docs = append(docs, Warning{File: words.Clean(f.File), Line: f.Line, Column: f.Column,
			Message: words.Clean(f.Message)})
	}
	return docs
}
