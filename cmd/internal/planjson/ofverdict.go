package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// verdict is whether the plan is to be carried out; nil: there are no moves to judge.
func (w filler) verdict(p *view.Plan) *PlanVerdict {
	v := p.Verdict
	if v == nil {
		return nil
	}
	doc := &PlanVerdict{
		Verdict: string(v.Kind), Reason: string(v.Reason), Chance: words.Floor(v.Chance, 4),
		Wanted: words.Fixed(v.Wanted, 6), Least: words.Fixed(v.Least, 6), Growth: w.Machines(v.Growth), Next: []VerdictStep{},
	}
	for _, step := range v.Next {
		d := VerdictStep{Step: string(step.Kind), Chance: words.Floor(step.Chance, 4), Enough: step.Enough}
		switch step.Kind {
		case view.TakePlan:
			d.Command = commandOf(&p.Others.Rows[step.Row])
		case view.MeasureWell:
			d.Source = sourceOf(step.Better.Source)
		}
		if step.Better.Coupling >= 0 {
			d.Coupling = w.Coupling(step.Better.Coupling)
		}
		if step.Better.Machine >= 0 {
			d.Machine = w.Machine(step.Better.Machine)
		}
		doc.Next = append(doc.Next, d)
	}
	return doc
}

// otherPlans are the rows of the other plans, each with the command that prints it.
func (w filler) otherPlans(p *view.Plan) []OtherPlan {
	var docs []OtherPlan
	for n := range p.Others.Rows {
		o := &p.Others.Rows[n]
		d := OtherPlan{
			Names: []string{}, Command: commandOf(o), Status: view.Undecided.String(), This: o.This,
			Moved: append([]string{}, w.Machines(o.Machines)...),
			Total: w.Total(o.Total), Plain: w.Total(o.Plain), Share: words.Use(o.Share), Chance: words.Floor(o.Chance, 4),
			Highest: words.Floor(o.Highest, 4),
		}
		for _, q := range o.Questions {
			if name := string(q.Kind); len(d.Names) == 0 || d.Names[len(d.Names)-1] != name {
				d.Names = append(d.Names, name)
			}
			if q.Kind == view.AskWithout {
				d.Without = append(d.Without, w.Machine(q.Machine))
			}
		}
		switch {
		case o.Found:
			d.Status, d.Feet = view.Planned.String(), &o.Feet
		case o.None:
			d.Status = view.Impossible.String()
		}
		docs = append(docs, d)
	}
	return docs
}

// commandOf is what prints a plan in full.
func commandOf(o *view.OtherPlan) string {
	command := "leastmove plan FILE"
	if flags := words.Flags(o.Flags); flags != "" {
		command += " " + flags
	}
	return command
}

// sourceOf is the word for a source of errors.
func sourceOf(s view.Source) string {
	return [...]string{"offset", "angle", "placing", "growth"}[s]
}
