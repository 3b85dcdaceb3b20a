package main

import (
	"fmt"
	"os"
	"strings"

	"leastmove/optimize/bnb"
)

// Each part of the campaign runs and writes its section; with no trains it
// does nothing.

func agreed(o options, p page, referees []*referee) error {
	if o.n == 0 {
		return nil
	}
	all, err := relaxed(o.n, o.source(), referees)
	if err != nil {
		return err
	}
	p.heading("Without whole steps, at %g of the limits: agreement", aim)
	fmt.Fprintf(p, "Differences are shares of the optimum, of %g mm where it is less.\n\n", small)
	p.lines(agreement(all))
	if rows := doubtful(all, o.list); rows != nil {
		fmt.Fprintf(p, "\nTrains that the third referee was asked about (totals in mm; at most %d listed):\n\n", o.list)
		p.table([]string{"family", "seed", "why", "leastmove", "CVXOPT", "cutting planes", "32-gon outside",
			"lowest use, CVXOPT", "lowest use, cuts", "third sides with"}, rows)
	}
	return nil
}

func raced(o options, p page, referees []*referee) error {
	if o.timed == 0 {
		return nil
	}
	all, err := timed(o.timed, o.source(), o.runs, o.processes, referees[0])
	if err != nil {
		return err
	}
	p.heading("Without whole steps: time")
	fmt.Fprintf(p, "Medians over trains of the median of %d runs; in brackets the median of each train's ratio to "+
		"leastmove's time. ", o.runs)
	fmt.Fprintln(p, "leastmove, CVXOPT and HiGHS (dual simplex on a 32-gon, by SciPy) in process, from the finished "+
		"problem on; CBC and glpsol on a 64-gon inside, as processes with a file, once.")
	fmt.Fprintln(p)
	p.table([]string{"machines", "trains", "leastmove", "CVXOPT", "HiGHS LP", "CBC", "glpsol"}, speeds(all))
	return nil
}

func stepped(o options, p page, referees []*referee) error {
	if o.search == 0 {
		return nil
	}
	all, passed, err := whole(o.search, o.mip, o.source(), o.limit, o.theirs, referees[0])
	if err != nil {
		return err
	}
	p.heading("In whole steps, at %g of the limits", aim)
	fmt.Fprintf(p, "Shims and side moves in whole steps, the linear problem, searches of at most %v to a gap of "+
		"0.1 %%; %d trains that stand within the aim as found were passed over.\n\n", o.limit, passed)
	p.table([]string{"machines", "searched", "proven impossible besides", "time, median", "0.1 % in 1 s", "0.1 % in 5 s",
		"0.5 % in 1 s", "0.5 % in 5 s", "ended without a plan", "largest gap with one", "proof checked in, median"},
		proven(all))
	if rows := tail(all); rows != nil {
		fmt.Fprintf(p, "\nNot proven to 0.1 %% in a second, total and bound in mm or mil:\n\n")
		p.table([]string{"family", "seed", "machines", "total", "bound", "gap at the end", "0.5 % after",
			"0.1 % after"}, rows)
	}
	var broken [][]string
	for _, d := range all {
		for _, b := range d.broken {
			broken = append(broken, []string{fmt.Sprintf("%s %d", d.family, d.seed), b})
		}
	}
	fmt.Fprintf(p, "\nStatements that certify or HiGHS does not bear out: %d.\n", len(broken))
	if broken != nil {
		fmt.Fprintln(p)
		p.table([]string{"family, seed", "statement"}, broken)
	}
	var none []string
	for _, d := range all {
		if d.ours.Steps == nil && d.ours.Status != bnb.Impossible {
			none = append(none, fmt.Sprintf("%s %d", d.family, d.seed))
		}
	}
	if none != nil {
		fmt.Fprintf(p, "\nNeither plan nor proof in time: %s.\n", strings.Join(none, ", "))
	}
	if o.mip > 0 {
		fmt.Fprintf(p, "\nBeside HiGHS on a 64-gon inside every disc, the same steps and gap, at most %v (leastmove "+
			"%v); one after the other:\n\n", o.theirs, o.limit)
		p.table([]string{"machines", "not proven impossible", "leastmove, median", "HiGHS, median", "median ratio",
			"leastmove ends in time", "HiGHS ends in time", "our plan smaller / larger"}, against(all))
	}
	return nil
}

func chained(o options, p page, referees []*referee) error {
	if !o.chain {
		return nil
	}
	rows, err := chains(o.runs, referees[0])
	if err != nil {
		return err
	}
	p.heading("Long chains without whole steps")
	p.table([]string{"machines", "time", "ratio to the row above", "CVXOPT", "HiGHS LP", "least total", "proven gap",
		"point outside by a share of"}, rows)
	return nil
}

func processed(o options, p page, referees []*referee) error {
	if o.plan == 0 {
		return nil
	}
	dir, err := os.MkdirTemp("", "campaign")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, err := built(dir)
	if err != nil {
		return err
	}
	all, empty, err := planned(program, o.plan, o.runs, o.source(), o.theirs, o.example, referees[0])
	if err != nil {
		return err
	}
	p.heading("The program as a process")
	fmt.Fprintf(p, "`leastmove plan --format json` from start to end (median of %d runs: search, closer couplings, "+
		"prices, check by true geometry, proof; starting the program alone takes %s) beside HiGHS's one search in "+
		"process, 64-gon inside, whole steps, gap 0.1 %%, at most %v.\n\n", o.runs, ms(empty), o.theirs)
	p.table([]string{"trains", "number", "leastmove, median", "HiGHS, median", "median ratio", "leastmove faster"},
		plans(all))
	if !o.chain {
		return nil
	}
	rows, err := longPlans(program, referees[0])
	if err != nil {
		return err
	}
	fmt.Fprintf(p, "\nLong chains, `leastmove plan` with all its other plans, totals in mm; beside it the best total and "+
		"the bound that HiGHS has in %v each, and the closest couplings (`--strategy closest`).\n\n", theirLong)
	p.table([]string{"machines", "time", "total", "bound by true geometry", "gap", "HiGHS, total and bound",
		"lowest share found", "proven"}, rows)
	return nil
}
