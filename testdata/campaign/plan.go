package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A process is one train planned by the program as a whole.
type process struct {
	name     string
	machines int
	ours     float64 // s, from start to end, median
	inner    answer  // HiGHS on the polygons inside
}

// built builds the program in a folder.
func built(dir string) (program string, err error) {
	program = filepath.Join(dir, "leastmove")
	if text, err := exec.Command("go", "build", "-o", program, "./cmd/leastmove").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%s: %w", text, err)
	}
	return program, nil
}

// planned runs `leastmove plan --format json`, in the program's folder, on trains of 3 to 8 machines and
// on an example, beside HiGHS in the referee's process at the same gap.
func planned(program string, n, runs int, c source, theirLimit time.Duration, example string,
	r *referee) (all []process, empty float64, err error) {
	dir := filepath.Dir(program)
	empty = seconds(runs, func() { _ = exec.Command(program, "version").Run() })
	one := func(name, text string, machines int) error {
		file := filepath.Join(dir, "train.toml")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			return err
		}
		var fault error
		p := process{name: name, machines: machines}
		p.ours = seconds(runs, func() {
			err := exec.Command(program, "plan", "--format", "json", file).Run()
			var exit *exec.ExitError
			if err != nil && !errors.As(err, &exit) {
				fault = err
			}
		})
		a, err := r.ask(question{Text: text, Use: aim, With: []string{"mip"}, Sides: "lattice", Gap: gaps[1],
			Limit: theirLimit.Seconds()})
		p.inner = a.Inner
		all = append(all, p)
		return errors.Join(fault, err)
	}
	text, err := os.ReadFile(example)
	if err != nil {
		return nil, 0, err
	}
	if err := one(filepath.Base(example), string(text), strings.Count(string(text), "[[machine]]")); err != nil {
		return nil, 0, err
	}
	for i := 0; len(all) <= n; i++ {
		s, err := c.drawn(i)
		if err != nil {
			return nil, 0, err
		}
		machines := len(s.train.Machines)
		relaxed := bnb.Relax(context.Background(), s.problem, mip.Goal{Use: aim})
		if machines < 3 || machines > 8 || relaxed.X == nil || relaxed.Bound <= 0 {
			continue
		}
		if err := one(s.name(), s.text, machines); err != nil {
			return nil, 0, fmt.Errorf("%s: %w", s.name(), err)
		}
	}
	return all, empty, nil
}

// plans is the table of whole processes: the example, then by machines.
func plans(all []process) [][]string {
	row := func(name string, in []process) []string {
		var ours, theirs, ratios []float64
		faster := 0
		for _, p := range in {
			ours, theirs, ratios = append(ours, p.ours), append(theirs, p.inner.Seconds), append(ratios, p.inner.Seconds/p.ours)
			if p.ours < p.inner.Seconds {
				faster++
			}
		}
		return []string{name, fmt.Sprint(len(in)), ms(median(ours)), ms(median(theirs)), "× " + times(median(ratios)),
			part(faster, len(in))}
	}
	rows := [][]string{row(all[0].name, all[:1])}
	for _, c := range [...]struct {
		name        string
		least, most int
	}{{"3-4 machines", 3, 4}, {"5 machines", 5, 5}, {"6-8 machines", 6, 8}} {
		var in []process
		for _, p := range all[1:] {
			if p.machines >= c.least && p.machines <= c.most {
				in = append(in, p)
			}
		}
		if len(in) > 0 {
			rows = append(rows, row(c.name, in))
		}
	}
	return append(rows, row("all drawn trains", all[1:]))
}
