package pages

import (
	"io"
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// JSON writes a plan for programs. A number that does not exist is null or
// left out.
func JSON(w io.Writer, p *view.Plan, layout Page) error {
	return planjson.Write(w, planDocument(p, layout))
}

// planDocument is a plan as it is written.
func planDocument(p *view.Plan, layout Page) planjson.Plan {
	s := formatterFor(p)
	doc := planjson.Plan{
		Schema: planjson.PlanSchema, Title: s.Title(), Units: s.unitsDoc(), Sides: s.sidesDoc(),
		Status: p.Status.String(), Cut: words.Clean(p.Cut), Solves: p.Solves,
		Bound: s.Bound(p.Bound), Lowest: words.Floor(p.Lowest, 3),
		Use:       planjson.Aim{Aim: words.Use(p.Aim), Reached: words.Use(p.Reached), Kept: words.Floor(p.Kept, 3)},
		Couplings: s.couplingDocs(p.Found.Couplings, p.Planned.Couplings),
		Unstated:  []string{}, Warnings: doubtDocs(layout),
		Provisional: p.Provisional, Hopeless: p.Hopeless, Chance: s.chanceDoc(p.Probability), Assurance: s.assuranceDoc(p),
		Survey: planjson.SurveyOf(s.Formatter, view.SurveyOf(s.Train)),
	}
	if r := p.Relieved; r != nil {
		doc.Relieved = &planjson.Relieved{Number: r.Number, Kind: string(r.Kind), Text: s.advice(r.Relaxation),
			Edits: s.editDocs(r.Edits)}
	}
	s.advise(&doc, p, layout)
	if p.Moves != nil {
		for i, r := range p.AtRest {
			doc.Couplings[i].Rest = s.restDoc(i, &r)
		}
		doc.Total, doc.Plain, doc.Least = s.Total(p.Total), s.Total(p.Plain), s.Total(p.Least)
		if p.Strategy != "" && p.Strategy != view.LeastTotal {
			doc.Strategy = string(p.Strategy)
			doc.First, doc.FirstBound = s.first(p)
		}
		doc.Gap, doc.Peak, doc.Moved = words.Ceil(p.Gap, 4), s.Moved(p.Largest), &p.Moved
	}
	for _, c := range p.Front {
		doc.Prices = append(doc.Prices, planjson.Price{Use: words.Use(c.Use), Total: s.Total(c.Total),
			Bound: s.Bound(c.Bound), Impossible: math.IsInf(c.Bound, 1)})
	}
	for i := range p.Moves {
		doc.Machines = append(doc.Machines, s.machineDoc(p, i))
	}
	for _, e := range p.Ends {
		doc.Ends = append(doc.Ends, planjson.End{Limit: s.limitDoc(e.Limit), Value: s.Limit(e.Kind, e.Value),
			Bound: s.Limit(e.Kind, e.Bound)})
	}
	for _, u := range p.Unstated {
		doc.Unstated = append(doc.Unstated, words.Clean(u))
	}
	return doc
}

func (s formatter) unitsDoc() planjson.Units {
	return planjson.Units{Length: s.LengthUnit(), Move: s.MoveUnit(), Angle: "mrad"}
}

func (s formatter) sidesDoc() planjson.Sides {
	return planjson.Sides{Left: words.Clean(s.Train.Sides.Left), Right: words.Clean(s.Train.Sides.Right)}
}

func (s formatter) machineDoc(p *view.Plan, i int) planjson.Machine {
	m := &s.Train.Machines[i]
	doc := planjson.Machine{Name: s.Machine(i), Moved: p.Moves.Moved(i), Held: m.Hold, Feet: []planjson.Foot{}}
	for f, move := range p.Moves[i] {
		foot := &m.Feet[f]
		change := p.Changes[i][f]
		room := &p.Rooms[i][f]
		d := planjson.Foot{
			Name: s.Foot(i, f), X: s.Length(foot.X), Y: s.Length(foot.Y),
			Up: s.Moved(move.Up), Left: s.Moved(move.Left), Axial: s.Moved(move.Axial),
			Limits: []planjson.FootLimit{}, Soft: s.Offset(p.Planned.Machines[i].Feet[f].Soft),
			Cut: s.cutDoc(change.Cut), Fill: s.cutDoc(change.Fill),
			Room: planjson.Left{
				Up: s.Left(room.Up), Down: s.Left(room.Down), Left: s.Left(room.Left), Right: s.Left(room.Right),
			},
		}
		if !math.IsNaN(change.Now) {
			d.Pack = &planjson.Pack{Now: s.Packed(change.Now), Then: s.Packed(change.Then)}
		}
		for _, l := range room.Limits {
			d.Limits = append(d.Limits, planjson.FootLimit{Kind: string(l.Kind), Value: s.Limit(l.Kind, l.Value),
				Limit: s.Limit(l.Kind, l.Bound)})
		}
		doc.Feet = append(doc.Feet, d)
	}
	if l := m.Level; !math.IsInf(l.Pitch, 1) || !math.IsInf(l.Roll, 1) {
		doc.Level = s.levelDoc(p, i)
	}
	for n := range m.Nozzles {
		z := &m.Nozzles[n]
		doc.Nozzles = append(doc.Nozzles, planjson.Nozzle{Name: s.Nozzle(i, n),
			Value: s.Offset(p.Planned.Machines[i].Nozzles[n]), Limit: s.Offset(z.Limit)})
	}
	return doc
}

// cutDoc is what comes off a foot or its base, or goes into a gap; "" where that is
// nothing.
func (s formatter) cutDoc(mm float64) words.Number {
	if n := s.Moved(mm); !n.Zero() {
		return n
	}
	return ""
}

func (s formatter) couplingDocs(found, planned [][]view.Reading) []planjson.Coupling {
	var docs []planjson.Coupling
	for i := range s.Train.Couplings {
		c := &s.Train.Couplings[i]
		doc := planjson.Coupling{Name: s.Coupling(i), From: s.Shaft(c.From), To: s.Shaft(c.To), X: s.Length(c.X),
			Readings: planjson.ReadingsOf(s.Formatter, view.ReadAt(s.Train, i))}
		if c.Spacer {
			doc.Flex = []words.Number{s.Length(c.Flex[0]), s.Length(c.Flex[1])}
		}
		for k := range s.Train.Conditions {
			f := &found[i][k]
			state := planjson.State{
				Condition: s.Condition(k), Found: s.readingDoc(f),
				Use: planjson.Shares{Found: words.Use(f.Worst())}, Worst: planjson.Worst{Found: view.WorstUse(f).Kind.String()},
			}
			if planned != nil {
				r := &planned[i][k]
				doc := s.readingDoc(r)
				state.Planned, state.Use.Planned, state.Worst.Planned = &doc, words.Use(r.Worst()), view.WorstUse(r).Kind.String()
			}
			doc.States = append(doc.States, state)
		}
		if planned != nil {
			doc.Driven = s.Condition(view.Driving(planned[i]))
		}
		docs = append(docs, doc)
	}
	return docs
}

func (s formatter) readingDoc(r *view.Reading) planjson.Reading {
	tilt := func(t view.Tilt) planjson.Tilt {
		return planjson.Tilt{Offset: s.Offset(t.Offset), Angle: s.Angle(t.Angle)}
	}
	return planjson.Reading{V: tilt(r.V), H: tilt(r.H), Gap: s.Length(r.Gap)}
}

func (s formatter) limitDoc(l view.Limit) planjson.Limit {
	d := planjson.Limit{Kind: string(l.Kind)}
	if l.Machine >= 0 {
		d.Machine = s.Machine(l.Machine)
		if l.Foot >= 0 {
			d.Foot = s.Foot(l.Machine, l.Foot)
		}
		if l.Nozzle >= 0 {
			d.Nozzle = s.Nozzle(l.Machine, l.Nozzle)
		}
	}
	if l.Coupling >= 0 {
		d.Coupling = s.Coupling(l.Coupling)
	}
	if l.Condition >= 0 {
		d.Condition = s.Condition(l.Condition)
	}
	return d
}

func doubtDocs(layout Page) []planjson.Warning {
	docs := []planjson.Warning{}
	for _, f := range layout.Doubts {
		docs = append(docs, planjson.Warning{File: layout.elsewhere(f), Line: f.Line, Column: f.Column,
			Message: words.Clean(f.Message)})
	}
	return docs
}
