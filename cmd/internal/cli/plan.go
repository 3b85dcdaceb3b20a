package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/signal"
	"sync"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
	"leastmove/train/trainfile"
)

// newPlan is `leastmove plan`.
func newPlan(s streams) *cobra.Command {
	f, ask, given := &form{}, &planning{}, ""
	c := &cobra.Command{
		Use:   "plan FILE",
		Short: "say what to move, foot by foot",
		Long: `Plan the moves of the train: the least total movement that keeps every coupling
within the aim in every condition, and every foot within what it can do.`,
		Example: `  leastmove plan train.toml
  leastmove plan train.toml --use 0.5
  leastmove plan train.toml --strategy fewest-machines --hold gear
  leastmove plan train.toml --assure 0.95  the least movement with that chance
  leastmove plan train.toml --format json -o plan.json
  leastmove plan train.toml --relieve 1    where no plan exists: with the first way out
  leastmove plan train.toml --plan mine.json   what a plan does that you wrote or changed
  leastmove plan - < train.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			flags := c.Flags()
			if given != "" {
				for _, other := range []string{"strategy", "relieve", "widen", "assure"} {
					if flags.Changed(other) {
						return fmt.Errorf("--%s goes with a plan that is to be made, --plan with one that is there: leave one of them", other)
					}
				}
			}
			if err := ask.look(flags); err != nil {
				return err
			}
			if given != "" {
				return s.replay(args[0], given, f, ask.Options)
			}
			return s.plan(args[0], f, ask)
		},
	}
	f.flags(c)
	ask.flags(c)
	c.Flags().StringVar(&given, "plan", "", "`file` of a plan (JSON) that you wrote or changed: say what it does,\ninstead of making one")
	return c
}

func (s streams) plan(name string, f *form, ask *planning) error {
	src, out, err := ask.begin(s, name, f)
	if err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	return s.planTo(ctx, src, out, f.format, ask)
}

// planTo plans, and writes the plan to its place.
func (s streams) planTo(ctx context.Context, src *source, out output, format string, ask *planning) error {
	layout := out.page(s, src)
	plan, err := s.make(ctx, src, &layout, ask)
	if err != nil {
		return err
	}
	write := report.Text
	if format == formatJSON {
		write = report.JSON
	}
	var result bytes.Buffer
	if err := write(&result, plan, layout); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.finish(ctx, s, result.Bytes()); err != nil {
		return err
	}
	return ended(plan)
}

// interruptible is a context that an interrupt ends. It is made once the input is
// there: an interrupt while waiting for that ends the program.
func interruptible() (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	return ctx, stop
}

// interrupted is the word on a result that an interrupt cut; nil: none did.
func interrupted(ctx context.Context) error {
	if ctx.Err() == nil {
		return nil
	}
	return &ending{exitInterrupted, fmt.Errorf("interrupted: the result is what was known by then")}
}

// make plans. Where a relief is asked for and no plan exists, it plans with that.
// What the plan depends on goes into the layout.
func (s streams) make(ctx context.Context, src *source, layout *report.Page, ask *planning) (*optimize.Plan, error) {
	tell, done := s.progress(src.train.Units)
	ask.Tell = tell
	plan, err := ask.plan(ctx, src.train)
	layout.Widened, layout.Held, layout.Freed = ask.Widen, ask.Hold, ask.Free
	layout.Line = src.line()
	if err == nil && ask.relieve > 0 && plan.Status == optimize.Impossible {
		if n := len(plan.Relaxations); ask.relieve > n {
			done()
			return nil, &ending{exitInput, fmt.Errorf("--relieve is %d: no plan exists, and %s", ask.relieve, waysOut(n))}
		}
		r := plan.Relaxations[ask.relieve-1]
		layout.Relieved = &report.Relieved{Number: ask.relieve, Relaxation: r}
		plan, err = ask.plan(ctx, optimize.Relax(src.train, r))
	}
	done()
	if err != nil {
		return nil, &ending{exitFault, err}
	}
	if ask.relieve > 0 && layout.Relieved == nil {
		fmt.Fprintf(s.err, "leastmove: --relieve %d was not used: %s\n", ask.relieve, unused(plan.Status))
	}
	return plan, nil
}

// line says where a key stands in the train file, which is gone through once, when
// it is first asked for.
func (s *source) line() func(report.Place) int {
	places := sync.OnceValue(func() *trainfile.Places { return trainfile.Locate(s.train, s.text) })
	return func(at report.Place) int {
		p := places()
		switch {
		case at.Coupling >= 0:
			return p.Coupling(at.Coupling, at.Key)
		case at.Nozzle >= 0:
			return p.Nozzle(at.Machine, at.Nozzle, at.Key)
		case at.Foot >= 0:
			return p.Foot(at.Machine, at.Foot, at.Key)
		case at.Machine >= 0:
			return p.Machine(at.Machine, at.Key)
		}
		return p.Train(at.Key)
	}
}

// waysOut says how many ways out there are.
func waysOut(n int) string {
	switch n {
	case 0:
		return "no way out was found"
	case 1:
		return "there is 1 way out"
	}
	return fmt.Sprintf("there are %d ways out", n)
}

// unused says why a relief was not looked at.
func unused(status optimize.Status) string {
	switch status {
	case optimize.Planned, optimize.Within:
		return "a plan exists without it"
	}
	return "it was not proven that there is no plan"
}

// ended is how a plan ends the program.
func ended(plan *optimize.Plan) error {
	switch a := plan.ChanceConstraint; {
	case a == nil, a.Reached:
	case a.None:
		return &ending{code: exitImpossible}
	default:
		return &ending{code: exitUndecided}
	}
	switch plan.Status {
	case optimize.Planned, optimize.Within:
		return nil
	case optimize.Impossible:
		return &ending{code: exitImpossible}
	case optimize.Undecided:
		return &ending{code: exitUndecided}
	}
	return &ending{exitFault, fmt.Errorf("the plan ended as %s. This is a fault of the program: please report it with the train file", plan.Status)}
}
