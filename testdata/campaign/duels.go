package main

import (
	"fmt"
	"math"

	"leastmove/optimize/bnb"
)

// proven is the table of our searches by class.
func proven(all []duel) [][]string {
	var rows [][]string
	for _, class := range classes {
		var t, checks []float64
		var n, impossible, without int
		var by [2][2]int
		var worst float64
		for _, d := range all {
			if d.class != class {
				continue
			}
			if d.ours.Status == bnb.Impossible {
				impossible++
				continue
			}
			n++
			t, checks = append(t, d.total), append(checks, d.verify)
			for k := range gaps {
				for m, limit := range [2]float64{1, 5} {
					if d.within[k] <= limit {
						by[k][m]++
					}
				}
			}
			switch {
			case d.ours.Steps == nil:
				without++
			case d.ours.Value > small:
				worst = math.Max(worst, d.ours.Gap())
			}
		}
		rows = append(rows, []string{
			class, fmt.Sprint(n), fmt.Sprint(impossible), ms(median(t)),
			part(by[1][0], n), part(by[1][1], n), part(by[0][0], n), part(by[0][1], n),
			fmt.Sprint(without), fmt.Sprintf("%.2f %%", 100*worst), ms(median(checks)),
		})
	}
	return rows
}

// tail is the table of our searches that were not within the smallest gap in a second, train by train.
func tail(all []duel) [][]string {
	var rows [][]string
	for _, d := range all {
		if d.within[1] <= 1 || d.ours.Status == bnb.Impossible {
			continue
		}
		when := func(s float64) string {
			if math.IsInf(s, 1) {
				return "-"
			}
			return fmt.Sprintf("%.1f s", s)
		}
		rows = append(rows, []string{
			d.family, fmt.Sprint(d.seed), fmt.Sprint(d.size), fmt.Sprintf("%.2f", d.ours.Value/d.unit),
			fmt.Sprintf("%.2f", d.ours.Bound/d.unit), fmt.Sprintf("%.2f %%", 100*d.ours.Gap()), when(d.within[0]),
			when(d.within[1]),
		})
	}
	return rows
}

// against is the table of our searches beside HiGHS's, where there is a plan.
func against(all []duel) [][]string {
	var rows [][]string
	for _, class := range classes {
		var ours, theirs, ratios []float64
		var weDone, theyDone, better, worse int
		for _, d := range all {
			if d.class != class || !d.theirs || d.ours.Status == bnb.Impossible {
				continue
			}
			ours, theirs, ratios = append(ours, d.total), append(theirs, d.inner.Seconds),
				append(ratios, d.inner.Seconds/d.total)
			if d.ours.Status == bnb.Least {
				weDone++
			}
			if d.inner.Status == "optimal" {
				theyDone++
			}
			if d.ours.Steps == nil || d.inner.Value == nil {
				continue
			}
			switch v := *d.inner.Value * d.unit; {
			case d.ours.Value < v*(1-1e-6):
				better++
			case d.ours.Value > v*(1+1e-6):
				worse++
			}
		}
		rows = append(rows, []string{
			class, fmt.Sprint(len(ours)), ms(median(ours)), ms(median(theirs)), "× " + times(median(ratios)),
			part(weDone, len(ours)), part(theyDone, len(ours)), fmt.Sprintf("%d / %d", better, worse),
		})
	}
	return rows
}
