package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/signal"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
)

// newPlan is `leastmove plan`.
func newPlan(s streams) *cobra.Command {
	f, share := &form{}, 0.0
	c := &cobra.Command{
		Use:   "plan FILE",
		Short: "say what to move, foot by foot",
		Long: `Plan the moves of the train: the least total movement that keeps every coupling
within the aim in every condition, and every foot within what it can do.`,
		Example: `  leastmove plan train.toml
  leastmove plan train.toml --use 0.5
  leastmove plan train.toml --format json -o plan.json
  leastmove plan - < train.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("use") && !(share > 0 && share <= 1) {
				return fmt.Errorf("--use is %g: a share of the coupling limits is above 0 and at most 1", share)
			}
			return s.plan(args[0], f, share)
		},
	}
	f.flags(c)
	c.Flags().Float64Var(&share, "use", 0, "`share` of every coupling limit that the plan may use, 0 to 1\n(0.7 keeps 30 % in hand; default: the train file's aim)")
	return c
}

func (s streams) plan(name string, f *form, share float64) error {
	if err := f.known(); err != nil {
		return err
	}
	src, err := s.read(name)
	if err != nil {
		return err
	}
	out, err := src.output(f.output)
	if err != nil {
		return err
	}
	// Not earlier: an interrupt while waiting for input ends the program.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	return s.make(ctx, src, out, f.format, share)
}

// make plans, and writes the plan to its place.
func (s streams) make(ctx context.Context, src *source, out output, format string, share float64) error {
	tell, done := s.progress()
	plan, err := optimize.Make(ctx, src.train, optimize.Options{Use: share, Tell: tell})
	done()
	if err != nil {
		return &ending{exitFault, err}
	}
	write := report.Text
	if format == formatJSON {
		write = report.JSON
	}
	var result bytes.Buffer
	if err := write(&result, plan, out.page(s, src)); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.write(s, result.Bytes()); err != nil {
		return err
	}
	if ctx.Err() != nil {
		return &ending{exitInterrupted, fmt.Errorf("interrupted: the result is what was known by then")}
	}
	return ended(plan.Status)
}

// ended is how a plan's status ends the program.
func ended(status optimize.Status) error {
	switch status {
	case optimize.Planned, optimize.Within:
		return nil
	case optimize.Impossible:
		return &ending{code: exitImpossible}
	case optimize.Undecided:
		return &ending{code: exitUndecided}
	}
	return &ending{exitFault, fmt.Errorf("the plan ended as %s. This is a fault of the program: please report it with the train file", status)}
}
