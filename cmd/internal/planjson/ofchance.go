package planjson

import (
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

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
