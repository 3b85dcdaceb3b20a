package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A Summary is what the short page of a plan says that no other page has in one place.
type Summary struct {
	Rolls     []RolledMachine // machines that the moves roll
	Soft      *SoftLeft       // soft foot that the shim packs leave; nil: none
	Widened   []int           // conditions that may use more than the limits as they are stated
	Moves     []MovedFeet     // in the order of the train
	Feet      int             // that move
	Couplings []CouplingShare // of every coupling
	Together  []TogetherShare // couplings that use more than 100 % of their limits added up
	Faces     []FaceGap       // of couplings with a face reading whose radius is stated, after the moves, cold
}

// A RolledMachine is one that the moves roll.
type RolledMachine struct {
	Machine int
	Roll    float64 // mrad, + left side up
}

// A SoftLeft is the largest soft foot that the shim packs leave.
type SoftLeft struct {
	Most     float64 // mm, in size
	Machines []int   // where there is any
}

// MovedFeet are a foot, or feet of one machine that follow each other and get the same.
type MovedFeet struct {
	Machine int
	Feet    []int
	Change  PackChange
	Left    float64 // mm, + left
}

// A CouplingShare is the worst share of a limit of one coupling in any condition.
type CouplingShare struct {
	Coupling      int
	Before, After float64 // share; After is NaN without a plan
	Condition     int     // that governs after the moves, or as found
	Use                   // of the limit that governs
	Reading       Reading // in that condition
}

// A FaceGap is how much wider the gap at a coupling is on one side than on the other, at the
// diameter at which its faces are read.
type FaceGap struct {
	Coupling int
	Diameter float64 // mm
	Top      float64 // mm, wider at the top; below 0: at the bottom
	Left     float64 // mm, wider at the left; below 0: at the right
}

// Smallest amounts that count, below what any page shows.
const (
	leastRoll = 0.0005 // mrad
	leastSoft = 0.0005 // mm
)

// summaryOf is that of a plan.
func summaryOf(p *Plan) Summary {
	var s Summary
	for k := range p.Train.Conditions {
		if p.Train.Conditions[k].Use > 1 {
			s.Widened = append(s.Widened, k)
		}
	}
	states := p.Found.Couplings
	if p.Moves != nil {
		states = p.Planned.Couplings
	}
	for i := range p.Train.Couplings {
		c := CouplingShare{Coupling: i, Before: worstOf(p.Found.Couplings[i]), After: math.NaN(),
			Condition: Driving(states[i])}
		if p.Moves != nil {
			c.After = worstOf(states[i])
		}
		c.Reading = states[i][c.Condition]
		c.Use = WorstUse(&c.Reading)
		s.Couplings = append(s.Couplings, c)
	}
	s.Together = togetherOf(states)
	if p.Moves == nil {
		return s
	}
	for i := range p.Planned.Machines {
		if roll := p.Planned.Machines[i].Motion[Roll]; math.Abs(roll) >= leastRoll {
			s.Rolls = append(s.Rolls, RolledMachine{i, roll})
		}
	}
	s.Soft, s.Moves, s.Feet = softLeft(p), MovedFeetOf(p.Train, p.Moves), optimize.FeetMoved(p.Moves)
	for i := range p.AtRest {
		if f, stated := FaceOf(p.Train, i, &p.AtRest[i].Misalignment); stated {
			s.Faces = append(s.Faces, f)
		}
	}
	return s
}

// worstOf is the largest share of a coupling's limits in any condition.
func worstOf(conditions []Reading) float64 {
	return conditions[Driving(conditions)].Worst()
}

// softLeft is the soft foot that a plan's shim packs leave.
func softLeft(p *Plan) *SoftLeft {
	var s SoftLeft
	for i := range p.Planned.Machines {
		most := 0.0
		for f := range p.Planned.Machines[i].Feet {
			most = math.Max(most, math.Abs(p.Planned.Machines[i].Feet[f].Soft))
		}
		if most >= leastSoft && !p.Train.Machines[i].Hold {
			s.Machines = append(s.Machines, i)
			s.Most = math.Max(s.Most, most)
		}
	}
	if s.Machines == nil {
		return nil
	}
	return &s
}

// MovedFeetOf are the feet at which there is something to do: a left and a right foot of one station once
// where they get the same.
func MovedFeetOf(t *Train, moves train.Moves) []MovedFeet {
	var out []MovedFeet
	for i, feet := range moves {
		for f, move := range feet {
			change := t.PackChange(i, f, move.Up)
			if change.By() == 0 && change.Fill == 0 && change.Cut == 0 && move.Left == 0 {
				continue
			}
			if n := len(out) - 1; n >= 0 && out[n].Machine == i && len(out[n].Feet) == 1 &&
				out[n].Feet[0] == f-1 && out[n].Left == move.Left && samePack(out[n].Change, change) &&
				t.Machines[i].Feet[f].X == t.Machines[i].Feet[f-1].X {
				out[n].Feet = append(out[n].Feet, f)
				continue
			}
			out = append(out, MovedFeet{i, []int{f}, change, move.Left})
		}
	}
	return out
}

// samePack says whether two shim packs are alike before and after; packs that are not stated are.
func samePack(a, b PackChange) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return same(a.Now, b.Now) && same(a.Then, b.Then) && a.By() == b.By() && a.Fill == b.Fill && a.Cut == b.Cut
}

// FaceOf is the gap of a coupling that sits so; stated: the file has the diameter at which its faces are read.
func FaceOf(t *train.Train, i int, m *Misalignment) (f FaceGap, stated bool) {
	d := faceDiameter(&t.Couplings[i])
	return faceGap(i, d, m), !math.IsNaN(d)
}

// faceDiameter is the diameter in mm at which a coupling's faces are read; NaN: not stated.
func faceDiameter(c *Coupling) float64 {
	for _, dials := range [][]Dial{c.Dials, c.Targets} {
		for n := range dials {
			if d := &dials[n]; d.Kind == train.FaceDial && d.Radius > 0 {
				return 2 * d.Radius
			}
		}
	}
	return math.NaN()
}
