package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// make plans the train of a job. Where an option is asked for and no plan exists, it plans
// with that.
func (j *job) make(ctx context.Context) (*view.Plan, error) {
	share := 1.
	if j.relieve > 0 {
		share = 1. / 2
	}
	plan, err := within(ctx, share, func(ctx context.Context) (*view.Plan, error) { return j.solve(ctx, j.src.train) })
	j.layout.Widened, j.layout.Line = j.Widen, j.src.line()
	if err != nil || j.relieve == 0 {
		return plan, err
	}
	if !plan.Explained {
		j.notes = append(j.notes, fmt.Sprintf("--relieve %d was not used: %s", j.relieve, unused(plan.Status)))
		return plan, nil
	}
	if n := len(plan.Relaxations); j.relieve > n {
		also := ""
		if !j.Widen {
			also = "; with --widen, wider coupling limits count as options too"
		}
		return nil, refused("--relieve is %d: no plan exists, and %s%s", j.relieve, optionsFound(n), also)
	}
	j.relieved = &view.Relieved{Number: j.relieve, Relaxation: plan.Relaxations[j.relieve-1]}
	j.Start = j.relieved.Moves
	j.relieved.Flags = []string{"--relieve", strconv.Itoa(j.relieve)}
	if j.Widen {
		j.relieved.Flags = append(j.relieved.Flags, "--widen")
	}
	// A machine that the option releases is not held by --hold again.
	j.Hold = slices.DeleteFunc(slices.Clone(j.Hold), func(name string) bool {
		released := slices.ContainsFunc(j.relieved.Edits, func(e view.Edit) bool {
			return e.Key == "hold" && j.src.train.Machines[e.Machine].Name == name
		})
		if released {
			j.relieved.Flags = append(j.relieved.Flags, "--hold", name)
		}
		return released
	})
	if plan, err = j.solve(ctx, j.planned()); err != nil {
		return nil, err
	}
	plan.Relieve(j.relieved)
	return plan, nil
}

// planned is the train that the plan is for: with the option that was asked for and used.
func (j *job) planned() *train.Train {
	return view.Relaxed(j.src.train, j.relieved)
}

// optionsFound says how many options there are.
func optionsFound(n int) string {
	switch n {
	case 0:
		return "no option was found"
	case 1:
		return "there is 1 option"
	}
	return fmt.Sprintf("there are %d options", n)
}

// unused says why an option was not looked at.
func unused(status view.Status) string {
	switch status {
	case view.Planned, view.Within:
		return "a plan exists without it"
	}
	return "it was not proven that there is no plan"
}
