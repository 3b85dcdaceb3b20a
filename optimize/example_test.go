package optimize_test

import (
	"context"
	"fmt"
	"os"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/train/trainfile"
)

// A train file is read, planned, and the plan's first machine told foot by foot.
func ExampleMake() {
	text, err := os.ReadFile("../examples/turbine/before.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	t, report := trainfile.Read("train.toml", text, trainfile.Options{
		ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor,
	})
	if t == nil {
		fmt.Print(report)
		return
	}
	p, err := optimize.Make(context.Background(), t, optimize.Options{Brief: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.2f mm in all, proven: none below %.3f\n", p.Status, p.Total, p.Bound)
	for i, feet := range p.Moves {
		for f, move := range feet {
			if move.Up != 0 || move.Left != 0 {
				fmt.Printf("%s %s: %+.2f up, %+.2f left\n", t.Machines[i].Name, t.Machines[i].Feet[f].Name, move.Up, move.Left)
			}
		}
	}
	// Output:
	// planned: 3.20 mm in all, proven: none below 3.200
	// turbine exhaust left: -0.20 up, +0.15 left
	// turbine exhaust right: -0.20 up, +0.15 left
	// gear in left: +0.55 up, -0.08 left
	// gear in right: +0.35 up, -0.08 left
	// gear out left: +0.25 up, +0.00 left
	// gear out right: +0.05 up, +0.00 left
	// compressor drive end left: -0.35 up, +0.22 left
	// compressor drive end right: -0.35 up, +0.22 left
}
