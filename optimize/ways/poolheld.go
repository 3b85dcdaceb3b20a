package ways

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// This file has the pool of the same train with one machine held: what `leastmove plan FILE --hold MACHINE`
// answers from where the row without that machine does not.

// mostAside is the most movable machines of a train for which such a pool is made beside its own: it takes as long.
const mostAside = 12

// Held is the pool of the train with one more machine held. Plans of this pool that let the machine stay are among
// its own; where this pool was made with machines held or freed it is the one that is made by itself. Of the options
// Brief, Tell and First count; the others are the pool's.
func (p *Pool) Held(ctx context.Context, machine int, as optimize.Options) (*Pool, error) {
	p.holding.Lock()
	held := p.held[machine]
	p.holding.Unlock()
	if held != nil {
		if !as.Brief && held.bare != nil {
			held = p.keep(ctx, machine, held.explained(ctx))
		}
		if as.First != nil {
			as.First(held.Base)
		}
		return held, nil
	}
	opt := p.options
	opt.Brief, opt.Tell, opt.First, opt.Early = as.Brief, as.Tell, as.First, as.Early
	opt.Hold = slices.Concat(opt.Hold, []string{p.train.Machines[machine].Name})
	var known []PooledPlan
	for n := range p.Plans {
		if x := &p.Plans[n]; len(opt.Hold) == 1 && len(opt.Free) == 0 && !slices.Contains(x.Machines, machine) {
			known = append(known, *x)
		}
	}
	held, err := makePool(ctx, p.train, opt, p.Asked, known)
	if err != nil {
		return held, err
	}
	return p.keep(ctx, machine, held), nil
}

// keep keeps the pool with a machine held, unless its search was cut short.
func (p *Pool) keep(ctx context.Context, machine int, held *Pool) *Pool {
	if ctx.Err() == nil {
		p.holding.Lock()
		defer p.holding.Unlock()
		if p.held == nil {
			p.held = map[int]*Pool{}
		}
		p.held[machine] = held
	}
	return held
}

// without is the plan with one more machine held, as the command prints it.
func (p *Pool) without(ctx context.Context, machine int, brief bool) (*optimize.Plan, error) {
	if r := p.rowOf(AskWithout, machine); r != nil {
		return p.Make(ctx, r, brief)
	}
	held, err := p.Held(ctx, machine, optimize.Options{Brief: true})
	if err != nil || held.Rows == nil {
		return held.Base, err
	}
	return held.Make(ctx, held.RowOf(AskLeast), brief)
}

// aside answers the row without a machine from the pool with it held, where a short search found nothing and has not
// proven that there is nothing. In a long train there is no such row then.
func (s *poolSearch) aside() error {
	at := slices.IndexFunc(s.Rows, func(r Row) bool { return r.Kind == AskWithout && r.Plan < 0 && !r.None })
	if at < 0 {
		return nil
	}
	if len(machineChoice(s.model).weight) > mostAside || s.ctx.Err() != nil {
		s.Rows = slices.Delete(s.Rows, at, at+1)
		return nil
	}
	r := &s.Rows[at]
	held, err := s.Held(s.ctx, r.Machine, optimize.Options{Brief: true})
	if err != nil {
		return err
	}
	s.Solves += held.Solves + held.Base.Solves
	if held.Rows == nil {
		r.None = held.Base.Status == optimize.Impossible
		return nil
	}
	least := held.RowOf(AskLeast)
	r.Use, r.aside = least.Use, held
	r.Plan = s.add(s.ctx, s.model, stepsOf(s.model, held.Plans[least.Plan].Moves))
	s.answer()
	return nil
}

// startOf is the known plan to start from, where a plan does not do as well: one without moves, or one that misses the
// aim that a known one keeps; nil: there is none.
func startOf(base *optimize.Plan, known []PooledPlan) train.Moves {
	least, at := math.Inf(1), -1
	keeps := Question{Use: base.Aim, Machine: -1}
	for n := range known {
		x := &known[n]
		short := base.Moves == nil && base.Status != optimize.Impossible ||
			base.Status == optimize.Planned && base.Kept > base.Aim*(1+optimize.CheckTolerance) && keeps.Keeps(x)
		if short && x.Total < least {
			least, at = x.Total, n
		}
	}
	if at < 0 {
		return nil
	}
	return known[at].Moves
}
