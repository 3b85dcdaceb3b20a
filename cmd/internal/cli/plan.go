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
	f, opt, gap := &form{}, optimize.Options{}, 0.0
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
			flags := c.Flags()
			switch {
			case flags.Changed("use") && !(opt.Use > 0 && opt.Use <= 1):
				return fmt.Errorf("--use is %g: a share of the coupling limits is above 0 and at most 1", opt.Use)
			case !(gap > 0 && gap <= 100):
				return fmt.Errorf("--gap is %g: a gap in per cent is above 0 and at most 100", gap)
			case flags.Changed("work") && opt.Solves < 1:
				return fmt.Errorf("--work is %d: it is at least 1", opt.Solves)
			case flags.Changed("time-limit") && opt.Limit <= 0:
				return fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", opt.Limit)
			}
			opt.Gap = gap / 100
			return s.plan(args[0], f, opt)
		},
	}
	f.flags(c)
	c.Flags().Float64Var(&opt.Use, "use", 0, "`share` of every coupling limit that the plan may use, 0 to 1\n(0.7 keeps 30 % in hand; default: the train file's aim)")
	c.Flags().Float64Var(&gap, "gap", 0.1, "how far in `per cent` a total may be above the proven bound\nto count as least")
	c.Flags().IntVar(&opt.Solves, "work", 0, "most `bounds` worked out in one search (default: 20000, fewer for more\nthan twelve machines); the same file gives the same plan on every computer with the same kind of processor")
	c.Flags().DurationVar(&opt.Limit, "time-limit", 0, "most `time` to search, like 5s or 2m; the plan may then differ from\nrun to run, and says so (default: none)")
	return c
}

func (s streams) plan(name string, f *form, opt optimize.Options) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	// Not earlier: an interrupt while waiting for input ends the program.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	return s.make(ctx, src, out, f.format, opt)
}

// make plans, and writes the plan to its place.
func (s streams) make(ctx context.Context, src *source, out output, format string, opt optimize.Options) error {
	tell, done := s.progress(src.train.Units)
	opt.Tell = tell
	plan, err := optimize.Make(ctx, src.train, opt)
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
