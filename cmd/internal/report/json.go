package report

import (
	"encoding/json"
	"io"
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// planSchema names the form of a plan in JSON. What it has keeps its name and
// meaning; other keys may be added.
const planSchema = "leastmove.plan/1"

// JSON writes a plan for programs. A number that does not exist is null or
// left out.
func JSON(w io.Writer, p *optimize.Plan, layout Page) error {
	return write(w, planDocument(p, layout))
}

// planDocument is a plan as it is written.
func planDocument(p *optimize.Plan, layout Page) planDoc {
	s := speakerFor(p)
	doc := planDoc{
		Schema: planSchema, Title: s.title(), Units: s.unitsDoc(), Sides: s.sidesDoc(),
		Status: p.Status.String(), Cut: clean(p.Cut), Solves: p.Solves,
		Bound: s.bound(p.Bound), Lowest: floor(p.Lowest, 3),
		Use:       aimDoc{Aim: use(p.Aim), Reached: use(p.Reached), Kept: floor(p.Kept, 3)},
		Couplings: s.couplingDocs(p.Found.Couplings, p.Planned.Couplings),
		Unstated:  []string{}, Warnings: doubtDocs(layout),
		Provisional: p.Provisional(), Hopeless: p.Hopeless, Chance: s.chanceDoc(p.Sure), Assurance: s.assuranceDoc(p),
		Survey: s.surveyDoc(),
	}
	if r := layout.Relieved; r != nil {
		doc.Relieved = &relievedDoc{Number: r.Number, Kind: r.Kind, Text: s.advice(r.Relief), Edits: s.editDocs(r.Edits)}
	}
	s.advise(&doc, p, layout)
	if p.Moves != nil {
		for i, r := range optimize.AtRest(s.t, p.Moves) {
			doc.Couplings[i].Rest = s.restDoc(i, &r)
		}
		doc.Total, doc.Plain, doc.Least = s.total(p.Total), s.total(p.Plain), s.total(p.Least)
		if p.Strategy != "" && p.Strategy != optimize.LeastTotal {
			doc.Strategy = p.Strategy
			doc.First, doc.FirstBound = s.first(p)
		}
		doc.Gap, doc.Peak, doc.Moved = ceil(gapOf(p), 4), s.moved(p.Peak), &p.Moved
	}
	for _, c := range p.Prices {
		doc.Prices = append(doc.Prices, priceDoc{Use: use(c.Use), Total: s.total(c.Total), Bound: s.bound(c.Bound), Impossible: math.IsInf(c.Bound, 1)})
	}
	for i := range p.Moves {
		doc.Machines = append(doc.Machines, s.machineDoc(p, i))
	}
	for _, e := range distinct(p.Ends) {
		doc.Ends = append(doc.Ends, endDoc{s.limitDoc(e.Limit), s.value(e.Kind, e.Value), s.value(e.Kind, e.Bound)})
	}
	for _, u := range p.Unstated {
		doc.Unstated = append(doc.Unstated, clean(u))
	}
	return doc
}

// write writes a document, indented, with < and & as they are.
func write(w io.Writer, doc any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}

func (s speaker) unitsDoc() unitsDoc {
	return unitsDoc{Length: s.lengthUnit(), Move: s.moveUnit(), Angle: "mrad"}
}

func (s speaker) sidesDoc() sidesDoc {
	return sidesDoc{clean(s.t.Sides.Left), clean(s.t.Sides.Right)}
}

func (s speaker) machineDoc(p *optimize.Plan, i int) machineDoc {
	m := &s.t.Machines[i]
	doc := machineDoc{Name: s.machine(i), Moved: p.Moves.Moved(i), Held: m.Hold, Feet: []footDoc{}}
	for f, move := range p.Moves[i] {
		foot := &m.Feet[f]
		limits, room := p.FootLimits(i, f)
		d := footDoc{
			Name: s.foot(i, f), X: s.length(foot.X), Y: s.length(foot.Y),
			Up: s.moved(move.Up), Left: s.moved(move.Left), Axial: s.moved(move.Axial),
			Limits: []footLimitDoc{}, Soft: s.offset(p.Planned.Machines[i].Feet[f].Soft),
			Cut:  s.cutDoc(foot.Cut),
			Fill: s.cutDoc(s.filled(i, f)),
			Room: leftDoc{s.left(room.Up), s.left(room.Down), s.left(room.Left), s.left(room.Right)},
		}
		if !math.IsNaN(foot.Pack) {
			d.Pack = &packDoc{s.packed(foot.Pack - s.filled(i, f)), s.packed(foot.Pack + foot.Cut + move.Up)}
		}
		for _, l := range limits {
			d.Limits = append(d.Limits, footLimitDoc{l.Kind, s.value(l.Kind, l.Value), s.value(l.Kind, l.Limit)})
		}
		doc.Feet = append(doc.Feet, d)
	}
	if l := m.Level; !math.IsInf(l.Pitch, 1) || !math.IsInf(l.Roll, 1) {
		doc.Level = s.levelDoc(p, i)
	}
	for n := range m.Nozzles {
		z := &m.Nozzles[n]
		doc.Nozzles = append(doc.Nozzles, nozzleDoc{s.nozzle(i, n), s.offset(p.Planned.Machines[i].Nozzles[n]), s.offset(z.Limit)})
	}
	return doc
}

// cutDoc is what comes off a foot or its base, or goes into a gap; "" where that is
// nothing.
func (s speaker) cutDoc(mm float64) number {
	if n := s.moved(mm); !n.zero() {
		return n
	}
	return ""
}

func (s speaker) couplingDocs(found, planned [][]train.Reading) []couplingDoc {
	var docs []couplingDoc
	for i := range s.t.Couplings {
		c := &s.t.Couplings[i]
		doc := couplingDoc{Name: s.coupling(i), From: s.shaft(c.From), To: s.shaft(c.To), X: s.length(c.X), Readings: s.readingsDoc(c)}
		if c.Spacer {
			doc.Flex = []number{s.length(c.Flex[0]), s.length(c.Flex[1])}
		}
		for k := range s.t.Conditions {
			f := &found[i][k]
			state := stateDoc{
				Condition: s.condition(k), Found: s.readingDoc(f),
				Use: sharesDoc{Found: use(f.Worst())}, Worst: worstDoc{Found: worst(f).Kind.String()},
			}
			if planned != nil {
				r := &planned[i][k]
				doc := s.readingDoc(r)
				state.Planned, state.Use.Planned, state.Worst.Planned = &doc, use(r.Worst()), worst(r).Kind.String()
			}
			doc.States = append(doc.States, state)
		}
		if planned != nil {
			doc.Driven = s.condition(driving(planned[i]))
		}
		docs = append(docs, doc)
	}
	return docs
}

func (s speaker) readingDoc(r *train.Reading) readingDoc {
	tilt := func(t train.Tilt) tiltDoc { return tiltDoc{s.offset(t.Offset), s.angle(t.Angle)} }
	return readingDoc{V: tilt(r.V), H: tilt(r.H), Gap: s.length(r.Gap)}
}

func (s speaker) limitDoc(l optimize.Limit) limitDoc {
	d := limitDoc{Kind: l.Kind}
	if l.Machine >= 0 {
		d.Machine = s.machine(l.Machine)
		if l.Foot >= 0 {
			d.Foot = s.foot(l.Machine, l.Foot)
		}
		if l.Nozzle >= 0 {
			d.Nozzle = s.nozzle(l.Machine, l.Nozzle)
		}
	}
	if l.Coupling >= 0 {
		d.Coupling = s.coupling(l.Coupling)
	}
	if l.Condition >= 0 {
		d.Condition = s.condition(l.Condition)
	}
	return d
}

func doubtDocs(layout Page) []warningDoc {
	docs := []warningDoc{}
	for _, f := range layout.Doubts {
		docs = append(docs, warningDoc{layout.elsewhere(f), f.Line, f.Column, clean(f.Message)})
	}
	return docs
}
