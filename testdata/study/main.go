// Study sets plans beside what is done without a planner, over many random
// trains of five machines, and prints a page.
//
//	go run ./testdata/study -n 300 -seed 1
//
// Trains are those of testdata/families, drawn until there are five machines and
// a plan at the aim; all are invented. Three comparisons:
//
//	closest  the best cascade to what is wanted when running, zero misalignment,
//	         against the closest alignment that the feet allow (strategy closest)
//	as left  the same cascade against the least total at the worst use that it
//	         leaves in any condition; where the feet allow no plan as close, there
//	         is nothing to compare
//	aim      the best cascade that stops as soon as its coupling is within the aim in
//	         every condition, against the least total at the aim
//
// The best cascade is the one with the least total of the five that start from
// each machine. It looks at no limits; it counts as bound where it takes out more
// shims than may come out, or moves a foot past what its hole allows.
//
// Every search is bounded by work, not by time, so the same command prints the same
// page; trains are taken in the order in which they are drawn.
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"sync"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
)

func main() {
	n := flag.Int("n", 300, "trains")
	seed := flag.Uint64("seed", 1, "first seed")
	jobs := flag.Int("jobs", 1, "trains at a time")
	flag.Parse()
	names := []string{"plain", "spacer", "gear", "nozzle", "effort", "each"}
	var all []result
	for s := *seed; len(all) < *n; s++ {
		batch := make([]result, len(names))
		slots := make(chan struct{}, *jobs)
		var trains sync.WaitGroup
		for i, name := range names {
			slots <- struct{}{}
			trains.Go(func() {
				defer func() { <-slots }()
				batch[i] = study(families.TOML(name, s))
			})
		}
		trains.Wait()
		for _, r := range batch {
			if !r.none && len(all) < *n {
				all = append(all, r)
			}
		}
		fmt.Fprintf(os.Stderr, "\r%d trains", len(all))
	}
	fmt.Fprintln(os.Stderr)
	page(all)
}

// A result is one train's. Ratios are the best cascade's total over the plan's,
// NaN where there is no such plan.
type result struct {
	none                         bool // there is nothing to compare with
	closest, left, aim           float64
	zeroBound, aimBound          bool // the best cascade is base- or bolt-bound
	closestFewer, fewer          bool // the plan moves fewer machines than the best cascade
	cascadeUse, closestUse       float64
	closestTouched, aimTouchedBy int // feet that the plan touches less than the cascade
}

func study(text string) result {
	none := result{none: true}
	t, _ := trainfile.Read("drawn", []byte(text), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
		Thread: bolts.Thread, Minor: bolts.Minor})
	if t == nil || len(t.Machines) != 5 {
		return none
	}
	ctx := context.Background()
	make := func(opt optimize.Options) *optimize.Plan {
		opt.Brief = true
		p, err := ways.Make(ctx, t, opt)
		if err != nil {
			panic(err) // a plan that failed its own check
		}
		return p
	}
	least := make(optimize.Options{Use: t.Aim.Use})
	if least.Status != optimize.Planned || least.Reached > t.Aim.Use*1.001 {
		return none
	}
	var zero, aim *optimize.Plan
	for i := range t.Machines {
		zero = smaller(zero, ways.Cascade(t, i))
		aim = smaller(aim, stopped(ctx, t, i))
	}
	if aim == nil {
		return none
	}
	r := result{
		closest: math.NaN(), left: math.NaN(), aim: aim.Total / least.Total,
		zeroBound: bound(zero), aimBound: bound(aim), fewer: least.Moved < aim.Moved,
		cascadeUse: zero.Reached, closestUse: math.NaN(), aimTouchedBy: aim.FeetMoved() - least.FeetMoved(),
	}
	if p := make(optimize.Options{Strategy: optimize.Closest}); p.Moves != nil {
		r.closest, r.closestFewer, r.closestUse = zero.Total/p.Total, p.Moved < zero.Moved, p.Reached
		r.closestTouched = zero.FeetMoved() - p.FeetMoved()
	}
	use := min(1, zero.Reached*1.0001)
	if p := make(optimize.Options{Use: use, Solves: 600}); p.Status == optimize.Planned && p.Reached <= use*1.001 {
		r.left = zero.Total / p.Total
	}
	return r
}

func smaller(a, b *optimize.Plan) *optimize.Plan {
	if a == nil || b != nil && b.Total < a.Total {
		return b
	}
	return a
}

// bound says whether moves that look at no limits break one of a foot.
func bound(p *optimize.Plan) bool {
	return slices.ContainsFunc(p.Broken, func(e optimize.Constraint) bool {
		return e.Kind == train.LimitLower || e.Kind == train.LimitBolt
	})
}

// stopped is the cascade from a machine in which every neighbour is moved by the
// least that brings its coupling within the aim; nil: one can't be brought there
// in all conditions.
func stopped(ctx context.Context, t *train.Train, stays int) *optimize.Plan {
	moves := t.Stay()
	set := func(i, coupling int) bool {
		plan, err := ways.Make(ctx, pair(t, coupling, i, moves), optimize.Options{Use: t.Aim.Use, Brief: true})
		if err != nil || plan.Moves == nil || plan.Reached > t.Aim.Use*1.001 {
			return false
		}
		moves[i] = plan.Moves[i-t.Couplings[coupling].From.Machine]
		return true
	}
	for i := stays + 1; i < len(t.Machines); i++ {
		if !set(i, i-1) {
			return nil
		}
	}
	for i := stays - 1; i >= 0; i-- {
		if !set(i, i) {
			return nil
		}
	}
	return optimize.Try(t, moves)
}

// pair is the two machines of a coupling, one of them held where it stands by
// now, the other without limits of its own.
func pair(t *train.Train, coupling, free int, moves train.Moves) *train.Train {
	c := t.Couplings[coupling]
	first := c.From.Machine
	motions := make([]train.Motion, len(t.Machines))
	for i := range motions {
		s := t.Machines[i].Kinematics()
		motions[i] = s.Motion(moves[i])
	}
	is, gap := t.Linear(coupling, 0, motions)
	was, wasGap := t.AsFound(coupling, 0)
	c.Found.V.Offset += is.V.Offset - was.V.Offset
	c.Found.V.Angle += is.V.Angle - was.V.Angle
	c.Found.H.Offset += is.H.Offset - was.H.Offset
	c.Found.H.Angle += is.H.Angle - was.H.Angle
	c.FoundGap += gap - wasGap
	c.From.Machine, c.To.Machine = 0, 1
	out := *t
	out.Machines = []train.Machine{t.Machines[first], t.Machines[first+1]}
	for i := range out.Machines {
		m := &out.Machines[i]
		if m.Hold = first+i != free; !m.Hold {
			unlimited(m)
		}
	}
	out.Couplings = []train.Coupling{c}
	out.Conditions = slices.Clone(t.Conditions)
	for k := range out.Conditions {
		out.Conditions[k].Growth = t.Conditions[k].Growth[first : first+2]
	}
	return &out
}

func page(all []result) {
	ratios := func(of func(result) float64) []float64 {
		var out []float64
		for _, r := range all {
			if v := of(r); !math.IsNaN(v) {
				out = append(out, v)
			}
		}
		slices.Sort(out)
		return out
	}
	closest := ratios(func(r result) float64 { return r.closest })
	left := ratios(func(r result) float64 { return r.left })
	aim := ratios(func(r result) float64 { return r.aim })
	share := func(is func(result) bool) float64 {
		n := 0
		for _, r := range all {
			n += count(is(r))
		}
		return 100 * float64(n) / float64(len(all))
	}
	at := func(v []float64, q float64) float64 { return v[int(q*float64(len(v)-1))] }
	fmt.Printf("| %d random trains of five machines | to zero, against the closest alignment | to zero, against the "+
		"least total at the use that leaves | stopped at the aim, against the least total at the aim "+
		"|\n|---|---|---|---|\n", len(all))
	fmt.Printf("| compared | %d | %d | %d |\n", len(closest), len(left), len(aim))
	fmt.Printf("| best cascade's total over the plan's, median | %.2f | %.2f | %.2f |\n", at(closest, 0.5),
		at(left, 0.5), at(aim, 0.5))
	fmt.Printf("| lower and upper quarter | %.2f, %.2f | %.2f, %.2f | %.2f, %.2f |\n",
		at(closest, 0.25), at(closest, 0.75), at(left, 0.25), at(left, 0.75), at(aim, 0.25), at(aim, 0.75))
	fmt.Printf("| best cascade is base- or bolt-bound | %.0f %% | | %.0f %% |\n",
		share(func(r result) bool { return r.zeroBound }), share(func(r result) bool { return r.aimBound }))
	fmt.Printf("| the plan moves fewer machines | %.0f %% | | %.0f %% |\n",
		share(func(r result) bool { return r.closestFewer }), share(func(r result) bool { return r.fewer }))
	fmt.Printf("| the plan touches fewer feet | %.0f %% | | %.0f %% |\n",
		share(func(r result) bool { return r.closestTouched > 0 }), share(func(r result) bool { return r.aimTouchedBy > 0 }))
	uses := ratios(func(r result) float64 { return r.cascadeUse })
	near := ratios(func(r result) float64 { return r.closestUse })
	fmt.Printf("| worst use left: cascade, closest alignment, medians | %.0f %%, %.0f %% | | |\n", 100*at(uses, 0.5),
		100*at(near, 0.5))
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}
