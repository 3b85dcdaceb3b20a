// Package staging puts the moves of a plan into stages of work: which machine's packs and
// which machine's shifts come first, what dials show in each stage, and how far a coupling
// may read off what the plan expects (acceptance.go). Lengths are in mm, angles in mrad; up
// and left are positive.
package staging

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// A Work is one part of a stage.
type Work int

const (
	Packing  Work = iota // packs: up and down
	Shifting             // sideways, and along the train with it
)

// A Stage is all that is done to one machine, couplings open.
type Stage struct {
	Machine int
	Works   []Work                // in their order; packs come first, but where Turned
	Moves   []train.FootMove      // of the machine's feet
	Done    train.Moves           // of all machines, with this stage
	Dials   []FootDial            // at the machine's feet, zeroed before the stage; elsewhere they stay at zero
	Rest    []train.Reading       // every coupling after it, cold and at standstill, by true geometry
	Turned  bool                  // shifted before its packs, which would break a limit first
	Broken  []optimize.Constraint // limits of the machine that the stage passes, on the way or at its end
	Over    []Swing               // dials at couplings that it takes past their travel
}

// A FootDial is what dials set against a foot show, in mm.
type FootDial struct {
	Up, Left, Axial float64
}

// A Swing is how far a dial at a coupling goes over a turn.
type Swing struct {
	Coupling int
	// in the order of Coupling.Dials and then Targets; -1: one on a rim at the coupling's x, the file names none
	Dial   int
	Swing  float64 // mm, from its least to its largest reading
	Travel float64 // mm, that it has
}

// A Staging is a plan in an order that works.
type Staging struct {
	Stages  []Stage
	Before  []train.Reading // every coupling before the first stage, cold and at standstill
	Largest Swing           // that uses most of its dial's travel before or after any stage; Travel 0: there is none
	Plain   bool            // one machine after the other, from the first to the last
}

// Stages puts a plan's moves into an order, a stage a machine. Every machine gets its
// packs before it is shifted, and machines follow one another from the first to the
// last, as long as no dial at a coupling is taken past its travel; else with as little
// of it as can be. A base comes before what it carries. A dial has DialTravel.
//
// What a foot or a nozzle of a machine is up against depends on that machine
// alone, and what a coupling shows on its two machines. So each coupling has
// only to say which of its two comes first. Whatever every coupling says, there is an
// order of all that does it: along a row of machines nothing comes round in a circle.
func Stages(p *optimize.Plan) *Staging {
	if p.Moves == nil {
		return &Staging{Plain: true}
	}
	s := &stager{plan: p, rests: optimize.Resting(p.Train), travel: DialTravel(p.Train.Units)}
	found := s.rests.Check(p.Train.Stay())
	out := &Staging{Before: optimize.RestReadings(&found), Plain: true}
	s.works = make([][]Work, len(p.Train.Machines))
	s.turned = make([]bool, len(p.Train.Machines))
	for i := range p.Train.Machines {
		s.works[i] = s.worksOf(i)
		s.turn(i, &found)
	}
	for c := range out.Before {
		out.largest(s.swings(c, &out.Before[c]))
	}
	done, state := p.Train.Stay(), found
	row := p.Train.Order()
	for n, i := range s.order() {
		out.Plain = out.Plain && (n == 0 || slices.Index(row, out.Stages[n-1].Machine) < slices.Index(row, i))
		stage := Stage{Machine: i, Works: s.works[i], Moves: p.Moves[i], Turned: s.turned[i]}
		if len(stage.Works) > 1 {
			stage.Broken = s.brokenBy(i, stage.Works[0], &found)
		}
		done = clone(done)
		done[i] = append([]train.FootMove(nil), p.Moves[i]...)
		after := s.rests.Check(done)
		for f := range stage.Moves {
			was, is := state.Machines[i].Feet[f], after.Machines[i].Feet[f]
			stage.Dials = append(stage.Dials, FootDial{Up: is.Up - was.Up, Left: is.Left - was.Left,
				Axial: is.Axial - was.Axial})
		}
		stage.Done, stage.Rest = done, optimize.RestReadings(&after)
		stage.Broken = append(stage.Broken, s.broken(i, done, &found, &after)...)
		for c := range stage.Rest {
			if !p.Train.Moves(i, c) {
				continue
			}
			swings := s.swings(c, &stage.Rest[c])
			for _, w := range swings {
				if w.Swing > w.Travel*(1+optimize.CheckTolerance) {
					stage.Over = append(stage.Over, w)
				}
			}
			out.largest(swings)
		}
		out.Stages = append(out.Stages, stage)
		state = after
	}
	return out
}

// largest keeps the swing that uses most of its dial's travel.
func (s *Staging) largest(swings []Swing) {
	for _, w := range swings {
		if s.Largest.Travel == 0 || w.Swing/w.Travel > s.Largest.Swing/s.Largest.Travel {
			s.Largest = w
		}
	}
}

// A stager puts a plan into stages.
type stager struct {
	plan   *optimize.Plan
	rests  *train.Train // cold and at standstill
	travel float64      // mm, of a dial
	works  [][]Work     // of each machine, in their order
	turned []bool       // by machine: shifted first
}

// worksOf is what is to be done to machine i, in the usual order.
func (s *stager) worksOf(i int) []Work {
	packs, shifts := false, false
	for f, m := range s.plan.Moves[i] {
		c := s.plan.Train.PackChange(i, f, m.Up)
		packs = packs || m.Up != 0 || c.Cut > optimize.NoPack || c.Fill > optimize.NoPack
		shifts = shifts || m.Left != 0 || m.Axial != 0
	}
	var out []Work
	if packs {
		out = append(out, Packing)
	}
	if shifts {
		out = append(out, Shifting)
	}
	return out
}

// part are the moves of machine i that belong to one piece of work.
func (s *stager) part(i int, w Work) []train.FootMove {
	out := make([]train.FootMove, len(s.plan.Moves[i]))
	for f, m := range s.plan.Moves[i] {
		if w == Packing {
			out[f].Up = m.Up
		} else {
			out[f].Left, out[f].Axial = m.Left, m.Axial
		}
	}
	return out
}

// turn has machine i shifted first where its packs alone would pass a limit of
// its own, and the shift alone would not.
func (s *stager) turn(i int, found *train.State) {
	if len(s.works[i]) < 2 {
		return
	}
	if packs := len(s.brokenBy(i, Packing, found)); packs > 0 && len(s.brokenBy(i, Shifting, found)) < packs {
		s.works[i], s.turned[i] = []Work{Shifting, Packing}, true
	}
}

// brokenBy are the limits of machine i that one part of its work passes by itself.
func (s *stager) brokenBy(i int, w Work, found *train.State) []optimize.Constraint {
	moves := s.plan.Train.Stay()
	moves[i] = s.part(i, w)
	state := s.rests.Check(moves)
	return s.broken(i, moves, found, &state)
}

// broken are the limits of machine i that it passes after some moves, and by
// more than as it was found.
func (s *stager) broken(i int, moves train.Moves, found, state *train.State) []optimize.Constraint {
	t := s.plan.Train
	before := map[optimize.Limit]float64{}
	for _, l := range optimize.Limits(t, t.Stay(), found, 1) {
		if l.Listed() {
			before[l.Limit] = l.Value
		}
	}
	var out []optimize.Constraint
	for _, l := range optimize.Limits(t, moves, state, 1) {
		if l.Machine != i || !l.Listed() || !l.Broken {
			continue
		}
		if was, known := before[l.Limit]; !known || l.Value > was*(1+optimize.CheckTolerance)+optimize.CheckTolerance {
			out = append(out, l.Constraint)
		}
	}
	return out
}

func clone(m train.Moves) train.Moves {
	out := make(train.Moves, len(m))
	for i := range m {
		out[i] = append([]train.FootMove(nil), m[i]...)
	}
	return out
}

// DialTravel is how far in mm a dial goes that nothing more is known of: 5 mm, 0.2
// inch. Common practice, no source.
func DialTravel(u train.Units) float64 {
	if u == train.Inches {
		return 200 * train.Mil
	}
	return 5
}

// use is the largest share of a dial's travel that coupling c uses.
func (s *stager) use(c int, r *train.Reading) float64 {
	var worst float64
	for _, w := range s.swings(c, r) {
		worst = math.Max(worst, w.Swing/w.Travel)
	}
	return worst
}
