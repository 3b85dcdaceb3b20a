package planjson

import (
	"fmt"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// Given is what the plan says, in the terms of a train. The report says what is wrong with it:
// it was edited, names what the train does not have, or lacks what the couplings are to do.
func (p *File) Given(t *train.Train) (*view.GivenPlan, Report) {
	if faults := p.Edited(); faults != nil {
		return nil, faults
	}
	moves, faults := p.Moves(t)
	if faults != nil {
		return nil, faults
	}
	couplings, faults := p.Of(t)
	if faults != nil {
		return nil, faults
	}
	out := &view.GivenPlan{Moves: moves}
	for n := range p.Machines {
		for i := range t.Machines {
			if t.Machines[i].Name == p.Machines[n].Name {
				out.Machines = append(out.Machines, p.givenMachine(&p.Machines[n], t, i))
			}
		}
	}
	for _, c := range couplings {
		out.Couplings = append(out.Couplings, p.givenCoupling(c, t))
	}
	return out, nil
}

func (p *File) givenMachine(g *Machine, t *train.Train, i int) view.GivenMachine {
	m := &t.Machines[i]
	out := view.GivenMachine{Machine: i}
	out.Pitch, out.Roll = LevelOf(g)
	for n := range m.Nozzles {
		out.Nozzles = append(out.Nozzles, p.NozzleLimit(g, m.Nozzles[n].Name))
	}
	limit := func(f *Foot, kind string) (l view.GivenLimit) {
		l.Used, l.Limit = p.UsedOf(f, kind)
		return l
	}
	for n := range g.Feet {
		f := &g.Feet[n]
		out.Feet = append(out.Feet, view.GivenFoot{
			Feet: Named(m, f.Name), X: p.Length(f.X), Y: p.Length(f.Y), Pack: p.PackChangeOf(f),
			Bolt: limit(f, "bolt"), Raise: limit(f, "raise"), Lower: limit(f, "lower"), Travel: limit(f, "travel"),
		})
	}
	return out
}

func (p *File) givenCoupling(c *Coupling, t *train.Train) view.GivenCoupling {
	out := view.GivenCoupling{X: p.Length(c.X), Flex: p.FlexOf(c), Half: p.HalfOf(c), Rest: p.PoseOf(&c.Rest.Reading)}
	for k := range t.Conditions {
		state := view.UnknownState()
		for n := range c.States {
			if s := &c.States[n]; s.Condition == t.Conditions[k].Name {
				state = view.GivenState{
					Found: p.PoseOf(&s.Found), Planned: p.PoseOf(s.Planned),
					UseFound: Value(s.Use.Found), UsePlanned: Value(s.Use.Planned),
					ByFound: s.Worst.Found, ByPlanned: s.Worst.Planned,
				}
			}
		}
		out.States = append(out.States, state)
	}
	return out
}

// AtOdds says of couplings of a train that the plan's moves do not bring them to where it says.
func (p *File) AtOdds(t *train.Train, couplings []int) Report {
	given, faults := p.Of(t)
	if faults != nil {
		return faults
	}
	for _, i := range couplings {
		faults = append(faults, given[i].Place.Fault(
			fmt.Sprintf("the moves of the plan do not bring coupling %q to where the plan says: "+
				"one or the other was changed by hand, or the train is another", t.Couplings[i].Name),
			"have the plan that was carried out written anew, with the train file that it was made for: "+
				"leastmove plan BEFORE.toml --plan PLAN.json --format json -o FULL.json"))
	}
	return faults
}
