package main

import (
	"context"
	"fmt"
	"math"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A race is one train's times in s, one solver after another.
type race struct {
	class                      string
	ours, cvx, lp, cbc, glpsol float64
}

// timed runs every solver alone, one train after another, on trains that have
// an optimum: per train the median of so many runs; CBC and glpsol once, on
// the first few of each class.
func timed(n int, c source, runs, processes int, r *referee) ([]race, error) {
	var out []race
	started := map[string]int{}
	for i := 0; len(out) < n; i++ {
		s, err := c.mixed(i)
		if err != nil {
			return nil, err
		}
		goal := mip.Goal{Use: aim}
		if bnb.Relax(context.Background(), s.problem, goal).X == nil {
			continue
		}
		class := s.class()
		q := question{Text: s.text, Use: aim, With: []string{"relaxed", "lp"}, Repeat: runs}
		if started[class]++; started[class] <= processes {
			q.With = append(q.With, "cbc", "glpsol")
		}
		a, err := r.ask(q)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.name(), err)
		}
		if a.Relaxed.Status != "optimal" {
			continue // no answer, no time
		}
		t := race{class: class, cvx: a.Relaxed.Seconds, lp: a.LP.Seconds, cbc: math.NaN(), glpsol: math.NaN()}
		if started[class] <= processes {
			t.cbc, t.glpsol = a.CBC.Seconds, a.Glpsol.Seconds
		}
		t.ours = seconds(runs, func() { bnb.Relax(context.Background(), s.problem, goal) })
		out = append(out, t)
	}
	return out, nil
}

// speeds is the table of the race: medians by class, and medians of each
// train's ratio to our time.
func speeds(all []race) [][]string {
	var rows [][]string
	for _, class := range classes {
		var in []race
		for _, t := range all {
			if t.class == class {
				in = append(in, t)
			}
		}
		row := []string{class, fmt.Sprint(len(in))}
		for k, of := range []func(race) float64{
			func(t race) float64 { return t.ours }, func(t race) float64 { return t.cvx }, func(t race) float64 { return t.lp },
			func(t race) float64 { return t.cbc }, func(t race) float64 { return t.glpsol },
		} {
			var v, ratios []float64
			for _, t := range in {
				if s := of(t); !math.IsNaN(s) {
					v, ratios = append(v, s), append(ratios, s/t.ours)
				}
			}
			if row = append(row, ms(median(v))); k > 0 {
				row[len(row)-1] += " (× " + times(median(ratios)) + ")"
			}
		}
		rows = append(rows, row)
	}
	return rows
}
