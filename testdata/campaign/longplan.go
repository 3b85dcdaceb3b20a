package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// theirLong is how long HiGHS may search a long train.
const theirLong = 30 * time.Second

// A longPlan is what is used here of what the program prints of a long train, and what it took.
type longPlan struct {
	Total      float64 // mm
	Bound      float64 // mm, proven
	First      float64 // share, of the closest couplings that were found
	FirstBound float64 `json:"first_bound"` // share, proven
	seconds    float64
}

// longPlans is the table of whole processes on trains of long, once each, beside HiGHS in the referee's process.
func longPlans(program string, r *referee) ([][]string, error) {
	file := filepath.Join(filepath.Dir(program), "long.toml")
	run := func(flags ...string) (p longPlan, err error) {
		cmd := exec.Command(program, append([]string{"plan", "--format", "json", file}, flags...)...)
		begin := time.Now()
		out, err := cmd.Output()
		if err != nil {
			return p, fmt.Errorf("%v: %w", cmd.Args, err)
		}
		p.seconds = time.Since(begin).Seconds()
		return p, json.Unmarshal(out, &p)
	}
	var rows [][]string
	for _, n := range [...]int{20, 30, 100, 300} {
		if err := os.WriteFile(file, []byte(long(n)), 0o644); err != nil {
			return nil, err
		}
		plan, err := run()
		if err != nil {
			return nil, err
		}
		closest, err := run("--strategy", "closest")
		if err != nil {
			return nil, err
		}
		theirs := "-"
		if n <= 30 {
			a, err := r.ask(question{Text: long(n), Use: aim, With: []string{"mip"}, Sides: "lattice", Gap: gaps[1],
				Limit: theirLong.Seconds()})
			if err != nil {
				return nil, err
			}
			if a.Inner.Value != nil {
				theirs = fmt.Sprintf("%.2f", *a.Inner.Value)
			}
			if a.Outer.Bound != nil {
				theirs += fmt.Sprintf(", %.2f", *a.Outer.Bound)
			}
		}
		rows = append(rows, []string{
			fmt.Sprint(n), fmt.Sprintf("%.1f s", plan.seconds),
			fmt.Sprintf("%.2f", plan.Total), fmt.Sprintf("%.2f", plan.Bound),
			fmt.Sprintf("%.1f %%", 100*(plan.Total-plan.Bound)/plan.Total), theirs,
			fmt.Sprintf("%.3f", closest.First), fmt.Sprintf("%.3f", closest.FirstBound),
		})
	}
	return rows, nil
}
