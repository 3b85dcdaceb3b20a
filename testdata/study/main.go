// Study sets plans beside what is done without a planner, over many random
// trains of five machines, and prints a page.
//
//	go run ./testdata/study -n 300 -seed 1
//
// Trains are those of testdata/families, drawn until there are five machines and
// a plan at the aim; all are invented. Two comparisons, each at about equal worst
// use:
//
//	zero   the best cascade to what is wanted when running, against the least total
//	       at the worst use that this leaves in any condition; where the feet allow
//	       no plan as close, there is nothing to compare
//	aim    the best cascade that stops as soon as its coupling is within the aim in
//	       every condition, against the least total at the aim
//
// The best cascade is the one with the least total of the five that start from
// each machine. It looks at no limits; it counts as bound where it takes out more
// shims than may come out, or moves a foot past what its hole allows.
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
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
)

func main() {
	n := flag.Int("n", 300, "trains")
	seed := flag.Uint64("seed", 1, "first seed")
	jobs := flag.Int("jobs", 2, "trains at a time")
	flag.Parse()
	names := []string{"plain", "spacer", "gear", "nozzle", "effort", "each"}
	results := make(chan result)
	work := make(chan string)
	var workers sync.WaitGroup
	for range *jobs {
		workers.Go(func() {
			for text := range work {
				if r, ok := study(text); ok {
					results <- r
				} else {
					results <- result{none: true}
				}
			}
		})
	}
	var all []result
	stop := make(chan struct{})
	go func() {
		defer close(work)
		for s := *seed; ; s++ {
			for _, name := range names {
				select {
				case work <- families.TOML(name, s):
				case <-stop:
					return
				}
			}
		}
	}()
	for len(all) < *n {
		if r := <-results; !r.none {
			all = append(all, r)
		}
	}
	close(stop)
	go func() {
		for range results {
		}
	}()
	workers.Wait()
	page(all)
}

// A result is one train's.
type result struct {
	none             bool
	zero, aim        float64 // best cascade's total over the plan's; NaN: there is no such plan
	zeroBound        bool    // the best cascade to zero is base- or bolt-bound
	aimBound         bool
	fewerThanCascade bool // the least total moves fewer machines than the best cascade at the aim
}

func study(text string) (result, bool) {
	t, _ := trainfile.Read("drawn", []byte(text), trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor})
	if t == nil || len(t.Machines) != 5 {
		return result{}, false
	}
	ctx := context.Background()
	least, err := optimize.Make(ctx, t, optimize.Options{Use: t.Aim.Use, Brief: true})
	if err != nil || least.Status != optimize.Planned || least.Reached > t.Aim.Use*1.001 {
		return result{}, false
	}
	var zero, aim *optimize.Plan
	for i := range t.Machines {
		zero = smaller(zero, optimize.Cascade(t, i))
		aim = smaller(aim, stopped(ctx, t, i))
	}
	if aim == nil {
		return result{}, false
	}
	use := min(1, zero.Reached*1.0001)
	as, err := optimize.Make(ctx, t, optimize.Options{Use: use, Brief: true, Solves: 600})
	if err != nil {
		return result{}, false
	}
	ratio := math.NaN()
	if as.Status == optimize.Planned && as.Reached <= use*1.001 {
		ratio = zero.Total / as.Total
	}
	return result{
		zero: ratio, aim: aim.Total / least.Total,
		zeroBound: bound(zero), aimBound: bound(aim), fewerThanCascade: least.Moved < aim.Moved,
	}, true
}

func smaller(a, b *optimize.Plan) *optimize.Plan {
	if a == nil || b != nil && b.Total < a.Total {
		return b
	}
	return a
}

// bound says whether moves that look at no limits break one of a foot.
func bound(p *optimize.Plan) bool {
	return slices.ContainsFunc(p.Broken, func(e optimize.End) bool {
		return e.Kind == optimize.LimitLower || e.Kind == optimize.LimitBolt
	})
}

// stopped is the cascade from a machine in which every neighbour is moved by the
// least that brings its coupling within the aim; nil: one can't be brought there
// in all conditions.
func stopped(ctx context.Context, t *train.Train, stays int) *optimize.Plan {
	moves := t.Stay()
	set := func(i, coupling int) bool {
		plan, err := optimize.Make(ctx, pair(t, coupling, i, moves), optimize.Options{Use: t.Aim.Use, Brief: true})
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
		s := t.Machines[i].Stance()
		motions[i] = s.Motion(moves[i])
	}
	is, gap := t.Linear(coupling, 0, motions)
	was, wasGap := t.Standing(coupling, 0)
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
	zero, aim := make([]float64, 0, len(all)), make([]float64, 0, len(all))
	zeroBound, aimBound, fewer := 0, 0, 0
	for _, r := range all {
		if aim = append(aim, r.aim); !math.IsNaN(r.zero) {
			zero = append(zero, r.zero)
		}
		zeroBound, aimBound, fewer = zeroBound+count(r.zeroBound), aimBound+count(r.aimBound), fewer+count(r.fewerThanCascade)
	}
	slices.Sort(zero)
	slices.Sort(aim)
	share := func(k int) float64 { return 100 * float64(k) / float64(len(all)) }
	at := func(v []float64, q float64) float64 { return v[int(q*float64(len(v)-1))] }
	fmt.Fprintf(os.Stdout, "| %d random trains of five machines | to zero, at the use that leaves | to the aim |\n|---|---|---|\n", len(all))
	fmt.Printf("| compared | %d | %d |\n", len(zero), len(aim))
	fmt.Printf("| best cascade's total over the plan's, median | %.2f | %.2f |\n", at(zero, 0.5), at(aim, 0.5))
	fmt.Printf("| lower and upper quarter | %.2f, %.2f | %.2f, %.2f |\n", at(zero, 0.25), at(zero, 0.75), at(aim, 0.25), at(aim, 0.75))
	fmt.Printf("| best cascade is base- or bolt-bound | %.0f %% | %.0f %% |\n", share(zeroBound), share(aimBound))
	fmt.Printf("| the plan moves fewer machines | | %.0f %% |\n", share(fewer))
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}
