package optimize

import (
	"math"
	"sync"
	"time"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A soFar tells of the best plan so far of a search that goes on for long: Options.Early.
type soFar struct {
	mutex sync.Mutex // parts of a long chain are searched side by side
	steps mip.Steps  // the best so far that was not told of; nil: none
	cost  float64    // objective of the best so far, mm
	use   float64    // share of the coupling limits that it keeps
	open  bool       // the search goes on: what its proof asks of points afterwards is no plan of it
	begun time.Time
	due   time.Duration // since then, when it may be told of next
}

// later is how many times as much time passes before another plan is told of: the one that is shown can be read.
const later = 4

// newSoFar is what tells of the best plan so far; nil: nobody is to be told.
func (o *Options) newSoFar() *soFar {
	if o.First == nil || o.Early <= 0 || !o.Strategy.Plain() {
		return nil
	}
	return &soFar{cost: math.Inf(1), begun: time.Now(), due: o.Early}
}

// watched are options of a search with which its best plans are told of, until it has ended.
func (m *Solver) watched(goal mip.Goal, opt bnb.Options) (_ bnb.Options, end func()) {
	s := m.soFar
	if s == nil {
		return opt, func() {}
	}
	m.tellSoFar()
	s.open = !goal.LeastUse
	accept, tell := opt.Accept, opt.Tell
	opt.Accept = func(steps mip.Steps) bool {
		ok := accept(steps)
		if !s.open || !ok {
			return ok
		}
		if s.took(steps, bnb.Cost(&m.Model.Problem, steps), goal.Use) {
			m.tellSoFar()
		}
		return ok
	}
	opt.Tell = func(p bnb.Progress) {
		m.tellSoFar()
		if tell != nil {
			tell(p)
		}
	}
	return opt, func() { s.open = false }
}

// took takes a plan that is better than the best so far, and says whether it is.
func (s *soFar) took(steps mip.Steps, cost, use float64) bool {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if cost >= s.cost {
		return false
	}
	s.steps, s.cost, s.use = append(mip.Steps(nil), steps...), cost, use
	return true
}

// tellSoFar tells of the best plan so far, if it is time and it was not told of.
func (m *Solver) tellSoFar() {
	s := m.soFar
	if s == nil {
		return
	}
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if s.steps == nil || time.Since(s.begun) < s.due {
		return
	}
	plan, nan := *m.Plan, math.NaN()
	early := *m
	early.Plan, plan.SoFar, plan.Kept = &plan, true, s.use
	found := bnb.Result{Steps: s.steps, Value: s.cost}
	if s.steps = nil; early.Take(found, nan, s.use) == nil {
		m.Options.First(&plan)
		s.due = later * time.Since(s.begun)
	}
}
