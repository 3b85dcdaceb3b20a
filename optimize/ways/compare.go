package ways

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// A Way is one way to move a train, and what comes of it.
type Way struct {
	Kind WayKind
	// Strategy is that of a planned way; Machine the machine that is held, or from
	// which a cascade starts, -1: none.
	Strategy optimize.Strategy
	Machine  int
	Plan     *optimize.Plan
}

// A WayKind is a kind of way.
type WayKind string

const (
	ByStrategy WayKind = "strategy"
	ByHolding  WayKind = "hold"     // least total with one machine held
	ByCascade  WayKind = "cascade"  // see Cascade
	ByLine     WayKind = "straight" // see StraightLine
)

// compareSolves is the most cone programs in one search for a way, where the options
// leave that open: there are many ways.
const compareSolves = 5000

// Compare plans the train by every strategy, with each machine that may be moved
// held in turn, and by what is done without a planner, as many at a time as there are
// processors. Options but Strategy and Brief are those of each plan, Limit that of all
// of them together; with From, that plan is not made again where it is one of them. What a
// row of a pool of the same train and options asks for is its plan; nil: there is no pool.
// An error is one of Make.
func Compare(ctx context.Context, t *train.Train, opt optimize.Options, pool *Pool) ([]Way, error) {
	ctx, stop := opt.Limited(ctx)
	defer stop()
	opt.Limit = 0
	opt.Brief, opt.Strategy = true, optimize.LeastTotal
	given, err := optimize.Given(t, opt)
	if err != nil {
		return nil, err
	}
	if opt.Solves == 0 {
		opt.Solves = min(compareSolves, optimize.WorthSolving(unknowns(given)))
	}
	opt.Tell = oneByOne(opt.Tell)
	var ways []Way
	var plans []func() (*optimize.Plan, error) // of each way
	add := func(w Way, plan func() (*optimize.Plan, error)) {
		ways, plans = append(ways, w), append(plans, plan)
	}
	from := opt.From // what strategies start from
	opt.From = nil
	times, holding := &shares{ctx: ctx}, pool
	if pool != nil && pool.Rows != nil {
		from = pool.Base
	} else {
		pool = nil
	}
	for _, s := range optimize.Strategies() {
		by := opt
		by.Strategy = s
		add(Way{ByStrategy, s, -1, nil}, func() (*optimize.Plan, error) {
			if r := pool.rowOf(rowFor(&by, 0, 0), -1); r != nil {
				return pool.Make(ctx, r, true)
			}
			if by.From = from; from != nil && madeBy(from, s) {
				return from, nil
			}
			return times.make(t, by)
		})
	}
	for i := range given.Machines {
		if given.Machines[i].Hold {
			continue
		}
		held := opt
		held.Hold = append(append([]string(nil), opt.Hold...), given.Machines[i].Name)
		add(Way{ByHolding, optimize.LeastTotal, i, nil}, func() (*optimize.Plan, error) {
			if holding != nil {
				return holding.without(ctx, i, true)
			}
			return times.make(t, held)
		})
	}
	times.left = len(ways)
	for i := range given.Row() {
		add(Way{ByCascade, "", i, nil}, func() (*optimize.Plan, error) { return Cascade(given, i), nil })
	}
	add(Way{ByLine, "", -1, nil}, func() (*optimize.Plan, error) { return StraightLine(given), nil })
	open := &unlooked{ctx: ctx, train: given, options: opt}
	finish := func(n int) error {
		if n > 0 && ctx.Err() != nil {
			ways[n].Plan = open.plan(ways[n].Strategy)
			return nil
		}
		p, err := plans[n]()
		if err != nil {
			return err
		}
		if p.Probability == nil {
			p.Probability = robust.MonteCarlo(ctx, p, robust.Draws)
		}
		ways[n].Plan = p
		return nil
	}
	// Yardsticks take little: in a long train up to a third of the time, and the rest of them
	// what is left in the end.
	early, enough := optimize.PartOfTime(ctx, 1./3)
	for n := len(ways) - 1; ways[n].Kind == ByCascade || ways[n].Kind == ByLine; n-- {
		if early.Err() != nil {
			break
		}
		if err := finish(n); err != nil {
			enough()
			return nil, err
		}
	}
	enough()
	if err := finish(0); err != nil {
		return nil, err
	}
	least := ways[0].Plan
	if from == nil {
		from = least
	}
	err = atOnce(len(ways)-1, func(n int) error {
		if w := &ways[n+1]; least.Status == optimize.Impossible && hindered(least, w) {
			p := *least
			p.Strategy, w.Plan = w.Strategy, &p
			return nil
		}
		if ways[n+1].Plan != nil {
			return nil
		}
		return finish(n + 1)
	})
	return ways, err
}

// hindered says whether what is in conflict in a plan's train is so by a way too: the same limits hold, and more,
// but for those of a machine that is held.
func hindered(p *optimize.Plan, w *Way) bool {
	return w.Kind == ByStrategy || w.Kind == ByHolding && len(p.Conflict) > 0 &&
		!slices.ContainsFunc(p.Conflict, func(c optimize.Member) bool { return c.Machine == w.Machine })
}

// unlooked are the plans of ways for which there was no time, one for each strategy: a long train has
// thousands of ways.
type unlooked struct {
	ctx     context.Context
	train   *train.Train
	options optimize.Options
	mutex   sync.Mutex
	plans   map[optimize.Strategy]*optimize.Plan
}

func (u *unlooked) plan(s optimize.Strategy) *optimize.Plan {
	u.mutex.Lock()
	defer u.mutex.Unlock()
	if u.plans == nil {
		u.plans = map[optimize.Strategy]*optimize.Plan{}
	}
	if u.plans[s] == nil {
		m := optimize.NewSolver(u.train, u.options)
		m.Plan.Status, m.Plan.Cut, m.Plan.Strategy = optimize.Undecided, m.Cut(u.ctx), s
		u.plans[s] = m.Plan
	}
	return u.plans[s]
}

// shares share out the time that a clock leaves among plans, so that each has some: the first
// plan, from which others start, has as much as the six after it.
type shares struct {
	ctx   context.Context
	mutex sync.Mutex
	begun bool
	left  int // plans that are not begun
}

// make is Make with a share of the time.
func (s *shares) make(t *train.Train, opt optimize.Options) (*optimize.Plan, error) {
	ctx := s.ctx
	if end, timed := ctx.Deadline(); timed {
		s.mutex.Lock()
		at, parts := 6, s.left+5
		if s.begun { // as many go on at a time as there are processors
			at, parts = min(runtime.GOMAXPROCS(0), s.left), s.left
		}
		s.begun = true
		s.left--
		s.mutex.Unlock()
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, time.Until(end)*time.Duration(at)/time.Duration(max(1, parts)))
		defer stop()
	}
	return Make(ctx, t, opt)
}

// unknowns is how many a plan of the train has at least: those of its foot stations.
func unknowns(t *train.Train) int {
	n := 0
	for i := range t.Machines {
		if !t.Machines[i].Hold {
			n += 2 * len(t.Machines[i].Stations())
		}
	}
	return n
}

// atOnce does n things, as many at a time as there are processors, and gives the error
// of the first of them that has one.
func atOnce(n int, do func(n int) error) error {
	errs, faults := make([]error, n), make([]any, n)
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				func() {
					defer func() { faults[i] = recover() }()
					errs[i] = do(i)
				}()
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	workers.Wait()
	for i := range n {
		if faults[i] != nil {
			panic(faults[i]) // our own bug, told where the caller tells of those
		}
		if errs[i] != nil {
			return errs[i]
		}
	}
	return nil
}

// oneByOne lets several searches tell how they go; nil of nil.
func oneByOne(tell func(bnb.Progress)) func(bnb.Progress) {
	if tell == nil {
		return nil
	}
	var telling sync.Mutex
	return func(p bnb.Progress) {
		telling.Lock()
		defer telling.Unlock()
		tell(p)
	}
}

// madeBy says whether a plan was made by a strategy.
func madeBy(p *optimize.Plan, s optimize.Strategy) bool {
	return p.Strategy == s || p.Strategy == "" && s == optimize.LeastTotal
}

// Weighted says whether a total is more than the plain movement: some machine is
// harder or easier to move than usual, or moving one costs something at all.
func Weighted(t *train.Train) bool {
	for i := range t.Machines {
		if !t.Machines[i].Hold && t.Machines[i].Effort != 1 {
			return true
		}
	}
	return t.Aim.FixedCost > 0
}
