package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// An OtherPlan is one plan of the run, the one that was asked for among them.
type OtherPlan struct {
	Names []string `json:"names" about:"least-total, fewest-machines, margin, chance, chance-in-reach, closest, left-out"`

	Command string   `json:"command" about:"what prints it in full"`
	Status  string   `json:"status" about:"planned, impossible (proven) or undecided"`
	This    bool     `json:"this" about:"it is the plan that was asked for"`
	Moved   []string `json:"moved" about:"names of the machines that move"`
	Feet    *int     `json:"feet,omitempty" about:"count of feet that move"`
	Total   Number   `json:"total,omitempty" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Plain   Number   `json:"plain,omitempty" about:"sum of all moves, in size, without weights" unit:"move"`
	Share   Number   `json:"share,omitempty" about:"largest share of a coupling limit, rounded up" unit:"share"`
	Chance  Number   `json:"chance,omitempty" about:"probability of ending within limits, rounded down" unit:"share"`
	Highest Number   `json:"highest_chance,omitempty" about:"highest found, where none has the one asked for" unit:"share"`
	Without []string `json:"without,omitempty" about:"machines that are left out, one at a time; for left-out"`
}

// A PlanVerdict is whether the plan is to be carried out.
type PlanVerdict struct {
	Verdict string `json:"verdict" about:"carry-out, marginal, not-advised or not-judged"`

	Reason string `json:"reason" about:"chance-kept, -short or -low, no-errors, no-growth, no-run, no-gap, limits-broken"`

	Chance Number        `json:"chance" about:"probability of ending within limits, rounded down" unit:"share"`
	Wanted Number        `json:"wanted" about:"probability from which on a plan is to be carried out" unit:"share"`
	Least  Number        `json:"least" about:"probability below which a plan is not advised" unit:"share"`
	Growth []string      `json:"growth,omitempty" about:"machines whose growth is not stated"`
	Next   []VerdictStep `json:"next" about:"what would raise the probability, or is to be stated"`
}

// A VerdictStep is one thing that would raise the probability, or that is missing.
type VerdictStep struct {
	Step     string `json:"step" about:"take-plan, measure, state-errors or state-growth"`
	Command  string `json:"command,omitempty" about:"what prints the other plan; for take-plan"`
	Source   string `json:"source,omitempty" about:"which error to halve: offset, angle, placing or growth; for measure"`
	Coupling string `json:"coupling,omitempty" about:"coupling that it is an error at"`
	Machine  string `json:"machine,omitempty" about:"machine that it is an error at, or whose growth is missing"`
	Chance   Number `json:"chance,omitempty" about:"probability that it brings, rounded down" unit:"share"`
	Enough   bool   `json:"enough" about:"that is at least what is wanted"`
}

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
