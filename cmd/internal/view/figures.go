package view

import (
	"leastmove/optimize"
	"leastmove/train"
)

// Figures are what the figures of a plan show, or of what became of its moves.
type Figures struct {
	Train   *train.Train
	Planned bool        // there is a plan, so that what is after the moves is shown beside what was found
	Moves   train.Moves // mm; nil without a plan
	Course  Course
	Limits  []LimitOverTime // of couplings, in the order of the train
	Times   []Time          // that Limits speak of, in their order
	Aim     float64         // share of every coupling limit that the plan may use; 1 is all of it
	Went    []WentStation   // of machines that were moved; nil but after the moves
	Holes   []Hole          // of feet that may be moved and have hole and bolt stated
}

// A Course is how the shafts of a train run in the running condition.
type Course struct {
	Before, After []train.Centreline // mm; After is nil without a plan
	// Nothing says how the train went as a whole: each is drawn about the straight
	// line nearest to it, not to both.
	Apart bool
}

// A WentStation is where the feet of a station went against where they were sent: up and down (+ up), and sideways
// (+ left).
type WentStation struct {
	Machine int
	Feet    []int
	Sent    [2]float64 // mm
	Went    [2]float64 // mm, what readings make most likely
	Half    [2]float64 // mm, 95 % half-widths of it
	Suspect bool       // a fault that explains what was read is here
}

// Figures are those of the plan.
func (p *Plan) Figures() *Figures { return FiguresOf(p.plan) }

// FiguresOf are those of a plan.
func FiguresOf(p *optimize.Plan) *Figures { return figuresOf(p, p.Status == optimize.Planned) }

// Figures are those of moves that were given, whether they hold or not.
func (r *Replayed) Figures() *Figures { return figuresOf(r.plan, true) }

func figuresOf(p *optimize.Plan, planned bool) *Figures {
	f := &Figures{
		Train: p.Train, Planned: planned, Moves: p.Moves, Aim: p.Aim,
		Course: Course{Before: p.Train.Centrelines(p.Train.Stay(), 0)},
		Limits: limitsOf(p, planned), Times: []Time{AsFound}, Holes: holes(p),
	}
	if planned {
		f.Times = []Time{Before, After}
		f.Course.After = p.Train.Centrelines(p.Moves, 0)
	}
	return f
}
