package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// long is a train of n machines with one coupling plane between neighbours and
// two conditions; all figures invented. Every machine is displaced a little
// from where it was true, with room to go back there.
func long(n int) string {
	rnd := rand.New(rand.NewPCG(1, uint64(n)))
	about := func(most float64) float64 { return math.Round((2*rnd.Float64()-1)*most*100) / 100 }
	var b strings.Builder
	fmt.Fprintf(&b, "title = \"a train of %d machines (invented)\"\nunits = \"mm\"\n", n)
	const pitch, first, last = 2000.0, 400.0, 1600.0 // mm, of machines and of their feet
	up, side := make([][2]float64, n), make([][2]float64, n)
	for i := range n {
		fmt.Fprintf(&b, "\n[[machine]]\nname = \"machine %d\"\nat = %g\nheight = 500\n", i+1, pitch*float64(i))
		up[i], side[i] = [2]float64{about(0.3), about(0.3)}, [2]float64{about(0.3), about(0.3)}
		for k, x := range [2]float64{first, last} {
			fmt.Fprintf(&b, "[[machine.foot]]\nname = \"%c\"\nx = %g\nspread = 800\nshim = 4\nraise = 4\nbolt = 24\nhole "+
				"= 28\n", 'A'+k, x)
		}
		fmt.Fprintf(&b, "[[machine.growth]]\nv = %.2f\n", 0.3+about(0.04))
	}
	at := func(off [2]float64, x float64) (offset, slope float64) {
		slope = (off[1] - off[0]) / (last - first)
		return off[0] + slope*(x-first), 1000 * slope
	}
	for i := 1; i < n; i++ {
		fmt.Fprintf(&b, "\n[[coupling]]\nname = \"coupling %d\"\nfrom = \"machine %d\"\nto = \"machine %d\"\nx = "+
			"%g\nlimit = { offset = 0.05, angle = 0.5 }\n[coupling.found]\n", i, i, i+1, pitch*float64(i))
		for k, off := range [2][][2]float64{up, side} {
			a, s := at(off[i-1], pitch)
			c, t := at(off[i], 0)
			fmt.Fprintf(&b, "%c = { offset = %.4f, angle = %.4f }\n", "vh"[k], c-a, t-s)
		}
	}
	b.WriteString("\n[[condition]]\nname = \"cold start\"\ngrowth = 0.4\nuse = 1.3\n")
	return b.String()
}

// chains times trains of up to 1,000 machines without whole steps. The outside
// solvers see them only as far as their dense matrices let them.
func chains(runs int, r *referee) ([][]string, error) {
	var rows [][]string
	var base float64
	for _, n := range [...]int{10, 100, 1000} {
		s, err := read("chain", uint64(n), long(n))
		if err != nil {
			return nil, err
		}
		var ours bnb.Relaxed
		t := seconds(runs, func() { ours = bnb.Relax(context.Background(), s.problem, mip.Goal{Use: aim}) })
		c := certificate{Outside: math.Inf(1), Under: math.Inf(1), Gap: math.Inf(1)}
		if ours.X != nil || ours.Impossible() {
			c = certified(s.problem, aim, ours)
		}
		times, total := "-", "no plan"
		if ours.X != nil {
			total = fmt.Sprintf("%.3f mm", ours.Bound)
		}
		if base > 0 {
			times = fmt.Sprintf("%.1f", t/base)
		}
		cvx, lp := math.NaN(), math.NaN()
		q := question{Text: s.text, Use: aim, With: []string{"lp"}, Repeat: 1}
		if n <= 10 {
			q.With = append(q.With, "relaxed")
		}
		if n <= 100 {
			a, err := r.ask(q)
			if err != nil {
				return nil, err
			}
			lp = a.LP.Seconds
			if n <= 10 {
				cvx = a.Relaxed.Seconds
			}
		}
		rows = append(rows, []string{fmt.Sprint(n), ms(t), times, ms(cvx), ms(lp), total, percent(c.Gap), percent(c.Outside)})
		base = t
	}
	return rows, nil
}
