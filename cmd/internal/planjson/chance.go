package planjson

import (
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// An Assurance is what came of a probability that was asked for.
type Assurance struct {
	Asked   Number   `json:"asked" about:"probability of ending within limits that was asked for" unit:"share"`
	Reached bool     `json:"reached" about:"this plan has it, by the simulated jobs of chance"`
	None    bool     `json:"none" about:"proven: no plan has it"`
	Margin  Number   `json:"margin,omitempty" about:"standard deviations that limits were held short by" unit:"ratio"`
	Most    Number   `json:"most,omitempty" about:"share of a limit that this takes, the largest" unit:"share"`
	Least   Number   `json:"least,omitempty" about:"share of a limit that this takes, the smallest" unit:"share"`
	Extra   Number   `json:"extra,omitempty" about:"total of this plan beyond without.total" unit:"weighted"`
	Without *Without `json:"without,omitempty" about:"the plan that may use all of every limit, where it was made"`
}

// Without is the plan that may use all of every limit.
type Without struct {
	Total  Number `json:"total" about:"its total" unit:"weighted"`
	Within Number `json:"within" about:"probability that it ends within limits, rounded down" unit:"share"`
}

// A Chance is how likely a plan ends within limits.
type Chance struct {
	Within    Number           `json:"within" about:"probability that all couplings do, rounded down" unit:"share"`
	Error     Number           `json:"error" about:"standard error of that" unit:"share"`
	Draws     int              `json:"draws" about:"count of simulated jobs"`
	Halved    Sources          `json:"halved" about:"within, were that error half as large"`
	Better    []Better         `json:"better" about:"within, were one measurement better by half, the largest first"`
	Couplings []CouplingChance `json:"couplings" about:"every coupling by itself"`
}

// A Better is the probability if one measurement were better by half.
type Better struct {
	Source   string `json:"source" about:"which error: offset, angle, placing or growth"`
	Coupling string `json:"coupling,omitempty" about:"coupling that it is an error at"`
	Machine  string `json:"machine,omitempty" about:"machine that it is an error at"`
	Within   Number `json:"within" about:"probability then, rounded down" unit:"share"`
}

// Sources are one number for every kind of error.
type Sources struct {
	Offset  Number `json:"offset" about:"of offsets found" unit:"share"`
	Angle   Number `json:"angle" about:"of angles found" unit:"share"`
	Placing Number `json:"placing" about:"of where feet are set" unit:"share"`
	Growth  Number `json:"growth" about:"of growth" unit:"share"`
}

// A CouplingChance is how likely one coupling ends within limits.
type CouplingChance struct {
	Name      string  `json:"name" about:"name of the coupling"`
	Within    Number  `json:"within" about:"probability that it does, rounded down" unit:"share"`
	Kind      string  `json:"kind" about:"limit that is passed most often"`
	Condition string  `json:"condition" about:"condition in which it is passed most often"`
	Shares    Sources `json:"shares" about:"parts of the variance there"`
}

// chance is the chance of a plan; nil where there is none.
func (w filler) chance(c *view.Probability) *Chance {
	if c == nil {
		return nil
	}
	d := &Chance{
		Within: words.Floor(c.Within, 4), Error: words.Ceil(c.Error, 5), Draws: c.Draws,
		Better: []Better{},
		Halved: Sources{Offset: words.Floor(c.Halved[0], 4), Angle: words.Floor(c.Halved[1], 4),
			Placing: words.Floor(c.Halved[2], 4), Growth: words.Floor(c.Halved[3], 4)},
	}
	for _, b := range c.Better {
		doc := Better{Source: sourceOf(b.Source), Within: words.Floor(b.Within, 4)}
		if b.Coupling >= 0 {
			doc.Coupling = w.Coupling(b.Coupling)
		}
		if b.Machine >= 0 {
			doc.Machine = w.Machine(b.Machine)
		}
		d.Better = append(d.Better, doc)
	}
	for i, k := range c.Couplings {
		d.Couplings = append(d.Couplings, CouplingChance{
			Name: w.Coupling(i), Within: words.Floor(k.Within, 4), Kind: string(k.Worst.Kind),
			Condition: w.Condition(k.Worst.Condition),
			Shares: Sources{Offset: words.Fixed(k.Shares[0], 3), Angle: words.Fixed(k.Shares[1], 3),
				Placing: words.Fixed(k.Shares[2], 3), Growth: words.Fixed(k.Shares[3], 3)},
		})
	}
	return d
}

// assurance is nil where no chance was asked for.
func (w filler) assurance(p *view.Plan) *Assurance {
	a := p.ChanceConstraint
	if a == nil {
		return nil
	}
	out := &Assurance{
		Asked: words.Fixed(a.Asked, 6), Reached: a.Reached, None: a.None, Margin: words.Fixed(a.BackOff, 3),
		Most: words.Ceil(a.Most, 3), Least: words.Floor(a.Least, 3),
	}
	if !math.IsNaN(a.Without) {
		out.Extra = w.Total(math.Max(0, p.Extra))
		out.Without = &Without{Total: w.Total(a.Without), Within: words.Floor(a.WithoutProbability, 4)}
	}
	return out
}
