package main

import (
	"fmt"
	"math"
	"slices"
)

// agreement is the table of the campaign without whole steps.
func agreement(all []verdict) []line {
	var feasible, infeasible, unknown, gaveUp, loose, differ, thirds int
	var largest, gap, loosely, cutOff, excess float64
	settled := map[string]int{}
	outside, under := map[float64]int{}, map[float64]int{}
	for i := range all {
		v := &all[i]
		switch v.status() {
		case "optimal":
			feasible++
			gap, excess = math.Max(gap, v.cert.Gap), math.Max(excess, v.cert.Excess)
			if c := v.they.Relaxed; c.Status == "optimal" && c.Tolerance == 0 {
				largest = math.Max(largest, v.off(c))
			} else if c.Status == "optimal" {
				loosely = math.Max(loosely, v.off(c))
			}
			if v.they.Cuts.Status == "optimal" {
				cutOff = math.Max(cutOff, v.off(v.they.Cuts))
			}
			outside[v.cert.Outside]++
		case "infeasible":
			infeasible++
		default:
			unknown++
		}
		under[v.cert.Under]++
		switch {
		case v.they.Relaxed.Status == "unknown":
			gaveUp++
		case v.they.Relaxed.Tolerance > 0:
			loose++
		}
		if v.differs() {
			differ++
		}
		if v.doubt != "" {
			thirds++
			settled[v.settled()]++
		}
	}
	return []line{
		{"trains, families in turn", fmt.Sprint(len(all))},
		{"leastmove: optimum / proven infeasible / neither", fmt.Sprintf("%d / %d / %d", feasible, infeasible, unknown)},
		{"CVXOPT gives up / answers to a loosened tolerance only", fmt.Sprintf("%d / %d", gaveUp, loose)},
		{"status or optimum differs (CVXOPT, or HiGHS on the outer 32-gon)", fmt.Sprint(differ)},
		{"third referee (cutting planes) asked; sides with", fmt.Sprintf("%d; %s", thirds, counts(settled))},
		{"largest difference of the optimum from CVXOPT's at 1e-9", percent(largest)},
		{"the same where CVXOPT's tolerance was loosened", percent(loosely)},
		{"largest difference from the cutting planes' optimum", percent(cutOff)},
		{"most by which a point passes a limit, mm or mrad", percent(excess)},
		{"certify: bound or infeasibility not proven", fmt.Sprint(under[math.Inf(1)])},
		{"certify: bound proven to a share of", counts(under)},
		{"certify: point not within its limits", fmt.Sprint(outside[math.Inf(1)])},
		{"certify: point within its limits to a share of", counts(outside)},
		{"largest proven gap, (value − bound) / value", percent(gap)},
	}
}

// doubtful lists the trains that a third referee was asked about, those that
// differ first.
func doubtful(all []verdict, most int) [][]string {
	var some []*verdict
	for i := range all {
		if all[i].doubt != "" {
			some = append(some, &all[i])
		}
	}
	slices.SortStableFunc(some, func(a, b *verdict) int {
		rank := func(v *verdict) int {
			switch {
			case v.differs():
				return 0
			case v.they.Relaxed.Status == "unknown":
				return 1
			}
			return 2
		}
		return rank(a) - rank(b)
	})
	var rows [][]string
	for _, v := range some[:min(most, len(some))] {
		number := func(x float64) string { return fmt.Sprintf("%.9g", x) }
		rows = append(rows, []string{
			v.family, fmt.Sprint(v.seed), v.doubt,
			v.status() + " " + number(v.value),
			v.they.Relaxed.Status + " " + number(v.mm(v.they.Relaxed)),
			v.they.Cuts.Status + " " + number(v.mm(v.they.Cuts)),
			v.they.LP.Status + " " + number(v.mm(v.they.LP)),
			ratio(v.they.Lowest), ratio(v.they.CutsLowest), v.settled(),
		})
	}
	return rows
}

// ratio is a lowest use as text.
func ratio(a answer) string {
	if a.Value == nil {
		return a.Status
	}
	return fmt.Sprintf("%.9f", *a.Value)
}
