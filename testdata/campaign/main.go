// Command campaign runs leastmove's solver over random trains of all families
// beside outside solvers, and writes what came of it as Markdown.
//
//	go run ./testdata/campaign -n 10000 -seed 1
//
// It is for developers: it takes minutes, and needs what testdata/referee
// needs. Nothing in it is a timed test; its times are for tables that say on
// what machine they were taken. See README.md.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"leastmove/testdata/families"
)

// options are the command line.
type options struct {
	n, timed, search, mip, plan, relief int // trains of each part
	seed                                uint64
	only                                string
	jobs, runs, processes, list         int
	limit, theirs                       time.Duration
	chain                               bool
	python, script, example             string
}

func main() {
	var o options
	flag.IntVar(&o.n, "n", 1000, "trains without whole steps, for agreement")
	flag.IntVar(&o.timed, "timed", 160, "trains without whole steps, for times")
	flag.IntVar(&o.search, "search", 160, "trains in whole steps")
	flag.IntVar(&o.mip, "mip", 0, "of these, trains that HiGHS is asked about too")
	flag.IntVar(&o.plan, "plan", 0, "trains of 3 to 8 machines planned by the program as a process, beside HiGHS")
	flag.IntVar(&o.relief, "relief", 0, "trains without a plan, for options")
	flag.Uint64Var(&o.seed, "seed", 1, "first seed of each family")
	flag.StringVar(&o.only, "family", "", "families to draw from, by commas (all)")
	flag.IntVar(&o.jobs, "jobs", 2, "referees at a time, for agreement only")
	flag.IntVar(&o.runs, "runs", 5, "runs of which a time is the median")
	flag.IntVar(&o.processes, "processes", 10, "trains of each size that CBC and glpsol are timed on")
	flag.IntVar(&o.list, "list", 40, "most doubtful trains listed")
	flag.DurationVar(&o.limit, "limit", 5*time.Second, "for each of our searches")
	flag.DurationVar(&o.theirs, "their-limit", 10*time.Second, "for each of HiGHS's searches")
	flag.BoolVar(&o.chain, "chain", true, "time trains of up to 1,000 machines")
	flag.StringVar(&o.python, "python", "/usr/bin/python3", "Python that has the outside solvers")
	flag.StringVar(&o.script, "referee", "testdata/referee/referee.py", "the referee's script")
	flag.StringVar(&o.example, "example", "examples/turbine/before.toml", "train file for -plan")
	flag.Parse()
	if flag.NArg() > 0 || o.mip > o.search || o.jobs < 1 || o.runs < 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(o, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "campaign:", err)
		os.Exit(1)
	}
}

// source is where the trains come from.
func (o options) source() source {
	if o.only == "" {
		return source{families.Names(), o.seed}
	}
	return source{strings.Split(o.only, ","), o.seed}
}

func run(o options, w io.Writer) error {
	began, busy := time.Now(), load()
	var referees []*referee
	for range o.jobs {
		r, err := start(o.python, o.script)
		if err != nil {
			return err
		}
		referees = append(referees, r)
	}
	p, alone := page{w}, referees[0]
	p.heading("Machine")
	p.lines(append(machine(alone.versions), line{"load before, over 1 and 5 minutes", busy}))
	for _, part := range []func(options, page, []*referee) error{agreed, raced, stepped, chained, processed, freed} {
		if err := part(o, p, referees); err != nil {
			return err
		}
	}
	for _, r := range referees {
		if err := r.stop(); err != nil {
			return err
		}
	}
	fmt.Fprintf(w, "\nSeed %d. All of it took %.0f s; load after: %s.\n", o.seed, time.Since(began).Seconds(), load())
	return nil
}
