package view

import (
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/train"
)

// Relaxed is a train with an option.
func Relaxed(t *train.Train, r *Relieved) *train.Train {
	if r == nil {
		return t
	}
	return optimize.Apply(t, r.Relaxation.Edits)
}

// Relieve says with which option the plan was made, and so those beside it: what that shifts machines by is what the
// plan does.
func (p *Plan) Relieve(r *Relieved) {
	out := *r
	out.Edits = slices.Clone(r.Edits)
	for n := range out.Edits {
		if e := &out.Edits[n]; e.Key == "axial" && p.Moves != nil {
			e.Shift = p.Moves[e.Machine][0].Axial
		}
	}
	p.Relieved = &out
	if p.Others == nil {
		return
	}
	for n := range p.Others.Rows {
		o := &p.Others.Rows[n]
		o.Flags = slices.Concat(o.Flags, r.Flags)
	}
}

// Given is a train with machines held and freed as asked for.
func Given(t *train.Train, opt Options) (*train.Train, error) { return optimize.Given(t, opt) }

// Strategies are all of them.
func Strategies() []Strategy { return optimize.Strategies() }

// Progress is how far a search is: what is best so far and what is proven, mm of movement or a
// share of a limit.
type Progress = bnb.Progress
