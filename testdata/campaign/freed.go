package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"leastmove/optimize"
	"leastmove/optimize/ways"
)

// freed plans trains until so many have no plan, and says how many of these
// have an option. Wider coupling limits are not looked at.
func freed(o options, p page, _ []*referee) error {
	if o.relief == 0 {
		return nil
	}
	trains := o.source()
	if o.only == "" {
		trains.families = append(trains.families, slices.Repeat([]string{"bound"}, 6)...)
	}
	var with, hopeless, drawn int
	var neither []string
	var all, five []float64 // s
	kinds := map[optimize.RelaxationKind]int{}
	seeds := map[string]uint64{}
	for len(all) < o.relief {
		family := trains.families[drawn%len(trains.families)]
		s, err := read(family, o.seed+seeds[family], "")
		if err != nil {
			return err
		}
		drawn++
		seeds[family]++
		start := time.Now()
		plan, err := ways.Make(context.Background(), s.train, optimize.Options{})
		if err != nil {
			return fmt.Errorf("%s: %w", s.name(), err)
		}
		if plan.Status != optimize.Impossible {
			continue
		}
		spent := time.Since(start).Seconds()
		all = append(all, spent)
		if len(s.train.Machines) == 5 {
			five = append(five, spent)
		}
		for _, r := range plan.Relaxations {
			kinds[r.Kind]++
		}
		switch {
		case len(plan.Relaxations) > 0:
			with++
		case plan.Hopeless:
			hopeless++
		default:
			neither = append(neither, s.name())
		}
	}
	p.heading("Trains without a plan")
	p.lines([]line{
		{"trains drawn, and of these without a plan (proven)", fmt.Sprintf("%d, %d", drawn, len(all))},
		{"with an option, proven by a plan of the edited train", fmt.Sprint(with)},
		{"with a proof that nothing but wider coupling limits helps", fmt.Sprint(hopeless)},
		{"with neither", strings.TrimSpace(fmt.Sprintf("%d %s", len(neither), strings.Join(neither, ", ")))},
		{"options by kind", strings.TrimPrefix(fmt.Sprint(kinds), "map")},
		{"planning, conflict and options, median and 90 %", fmt.Sprintf("%.2f s, %.2f s", median(all), portion(all, 0.9))},
		{"the same, five machines", fmt.Sprintf("%.2f s, %.2f s", median(five), portion(five, 0.9))},
	})
	return nil
}

// portion is the value that so large a share of a list is at or below.
func portion(v []float64, of float64) float64 {
	s := slices.Sorted(slices.Values(v))
	if len(s) == 0 {
		return 0
	}
	return s[min(len(s)-1, int(of*float64(len(s))))]
}
