package main

import (
	"context"
	"fmt"
	"math"
	"time"

	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// A duel is one train in whole steps, here and by HiGHS.
type duel struct {
	family string
	seed   uint64
	class  string
	size   int // machines
	ours   bnb.Result
	total  float64    // s, of our search
	within [2]float64 // s, when the gap first was within each of gaps; +Inf: never
	broken []string   // what a certificate does not bear out, or the two contradict
	theirs bool       // HiGHS was asked
	unit   float64
	inner  answer // a plan on the polygons inside
	outer  answer // a bound on those outside
	verify float64
}

// gaps are the relative gaps at which searches are compared.
var gaps = [2]float64{0.005, 0.001}

// searched searches one train for so long.
func searched(s *subject, limit time.Duration) duel {
	d := duel{family: s.family, seed: s.seed, class: s.class(), size: len(s.train.Machines),
		unit: s.train.Units.Move()}
	d.within = [2]float64{math.Inf(1), math.Inf(1)}
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	start := time.Now()
	reach := func(value, bound float64) {
		now := time.Since(start).Seconds()
		for k, g := range gaps {
			if (value-bound)/value <= g && now < d.within[k] {
				d.within[k] = now
			}
		}
	}
	d.ours = bnb.Find(ctx, s.problem, mip.Goal{Use: aim}, bnb.Options{
		Gap: gaps[1], Solves: math.MaxInt, Tell: func(p bnb.Progress) { reach(p.Value, p.Bound) },
	})
	d.total = time.Since(start).Seconds()
	if d.ours.Status != bnb.Cut {
		d.within[0], d.within[1] = math.Min(d.within[0], d.total), math.Min(d.within[1], d.total)
	}
	d.verify = seconds(1, func() { d.check(s.problem) })
	return d
}

// check has the search's statements verified by package certify.
func (d *duel) check(p *mip.Problem) {
	if err := certify.Check(p, d.ours.Claim, d.ours.Proof); err != nil {
		d.broken = append(d.broken, "certify: "+err.Error())
	}
	if d.ours.Steps == nil {
		return
	}
	if err := certify.Keeps(p, d.ours.Steps, aim, 1e-9); err != nil {
		d.broken = append(d.broken, "certify: "+err.Error())
	}
	if d.ours.Status == bnb.Least && d.ours.Gap() > gaps[1]+1e-9 && d.ours.Value > small {
		d.broken = append(d.broken, fmt.Sprintf("least, with a gap of %.3g", d.ours.Gap()))
	}
}

// ask asks HiGHS, and notes what cannot be true at once. Polygons inside give
// plans, those outside bounds, each to HiGHS's own tolerance on rows.
func (d *duel) ask(s *subject, r *referee, limit time.Duration) error {
	a, err := r.ask(question{
		Text: s.text, Use: aim, With: []string{"mip"}, Sides: "lattice", Gap: gaps[1], Limit: limit.Seconds(),
	})
	if err != nil {
		return fmt.Errorf("%s: %w", s.name(), err)
	}
	d.theirs, d.inner, d.outer = true, a.Inner, a.Outer
	const row = 1e-5 // share that HiGHS's tolerance makes of a total
	note := func(format string, args ...any) { d.broken = append(d.broken, fmt.Sprintf(format, args...)) }
	if v := d.inner.Value; v != nil && d.ours.Bound > *v*d.unit*(1+row) {
		note("HiGHS has a plan of %.6g mm, our bound is %.6g", *v*d.unit, d.ours.Bound)
	}
	if b := d.outer.Bound; b != nil && d.ours.Steps != nil && d.ours.Value < *b*d.unit*(1-row) {
		note("HiGHS's bound is %.6g mm, our plan has %.6g", *b*d.unit, d.ours.Value)
	}
	if d.outer.Status == "infeasible" && d.ours.Steps != nil {
		note("HiGHS has no plan, we have one")
	}
	return nil
}

// whole searches n trains that have something to move, and asks HiGHS about
// the first few; it also says how many were passed over as within their limits.
func whole(n, asked int, c source, limit, theirLimit time.Duration, r *referee) (all []duel, passed int, err error) {
	for i := 0; len(all) < n; i++ {
		s, err := c.mixed(i)
		if err != nil {
			return nil, 0, err
		}
		if bnb.Relax(context.Background(), s.problem, mip.Goal{Use: aim}).Bound <= 0 {
			passed++
			continue
		}
		d := searched(s, limit)
		if len(all) < asked {
			if err := d.ask(s, r, theirLimit); err != nil {
				return nil, 0, err
			}
		}
		d.ours.Proof = nil // it is large
		all = append(all, d)
	}
	return all, passed, nil
}
