package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
	"leastmove/train/trainfile"
)

// newPlan is `leastmove plan`.
func newPlan(s streams) *cobra.Command {
	f, opt, gap, relieve, strategy, given := &form{}, optimize.Options{}, 0.0, 0, "", ""
	c := &cobra.Command{
		Use:   "plan FILE",
		Short: "say what to move, foot by foot",
		Long: `Plan the moves of the train: the least total movement that keeps every coupling
within the aim in every condition, and every foot within what it can do.`,
		Example: `  leastmove plan train.toml
  leastmove plan train.toml --use 0.5
  leastmove plan train.toml --strategy fewest-machines --hold gear
  leastmove plan train.toml --format json -o plan.json
  leastmove plan train.toml --relieve 1    where no plan exists: with the first way out
  leastmove plan train.toml --plan mine.json   what a plan does that you wrote or changed
  leastmove plan - < train.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			flags := c.Flags()
			if given != "" {
				for _, other := range []string{"strategy", "relieve", "widen"} {
					if flags.Changed(other) {
						return fmt.Errorf("--%s goes with a plan that is to be made, --plan with one that is there: leave one of them", other)
					}
				}
			}
			if err := aShare(flags, opt.Use); err != nil {
				return err
			}
			switch {
			case !(gap > 0 && gap <= 100):
				return fmt.Errorf("--gap is %g: a gap in per cent is above 0 and at most 100", gap)
			case flags.Changed("work") && opt.Solves < 1:
				return fmt.Errorf("--work is %d: it is at least 1", opt.Solves)
			case flags.Changed("time-limit") && opt.Limit <= 0:
				return fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", opt.Limit)
			case flags.Changed("relieve") && relieve < 1:
				return fmt.Errorf("--relieve is %d: it is the number of a way out, from 1", relieve)
			}
			if err := aStrategy(strategy); err != nil {
				return err
			}
			opt.Gap, opt.Strategy = gap/100, optimize.Strategy(strategy)
			if given != "" {
				return s.replay(args[0], given, f, opt)
			}
			return s.plan(args[0], f, opt, relieve)
		},
	}
	f.flags(c)
	c.Flags().StringVar(&strategy, "strategy", string(optimize.LeastTotal), "`what` to make least first: "+strings.Join(strategies(), ",\n"))
	if err := c.RegisterFlagCompletionFunc("strategy", cobra.FixedCompletions(strategies(), cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was made just above
	}
	moving(c, &opt)
	c.Flags().Float64Var(&opt.Use, "use", 0, "`share` of every coupling limit that the plan may use, 0 to 1\n(0.7 keeps 30 % in hand; default: the train file's aim)")
	c.Flags().Float64Var(&gap, "gap", 0.1, "how far in `per cent` a total may be above the proven bound\nto count as least")
	c.Flags().IntVar(&opt.Solves, "work", 0, "most `bounds` worked out in one search (default: 20000, fewer for more\nthan twelve machines); the same file gives the same plan on every\ncomputer with the same kind of processor")
	c.Flags().DurationVar(&opt.Limit, "time-limit", 0, "most `time` to search, like 5s or 2m; the plan may then\ndiffer from run to run, and says so (default: none)")
	c.Flags().IntVar(&relieve, "relieve", 0, "where no plan exists, plan with the way out of this `number`\nin the list of ways out")
	c.Flags().StringVar(&given, "plan", "", "`file` of a plan (JSON) that you wrote or changed: say what it does,\ninstead of making one")
	c.Flags().BoolVar(&opt.Widen, "widen", false, "where no plan exists, look at wider coupling limits\nas a way out too")
	return c
}

func (s streams) plan(name string, f *form, opt optimize.Options, relieve int) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	if err := inTrain(src.train, &opt); err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	return s.make(ctx, src, out, f.format, opt, relieve)
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

// make plans, and writes the plan to its place. Where relieve is a number and no
// plan exists, it plans with the relief of that number.
func (s streams) make(ctx context.Context, src *source, out output, format string, opt optimize.Options, relieve int) error {
	tell, done := s.progress(src.train.Units)
	opt.Tell = tell
	plan, err := optimize.Make(ctx, src.train, opt)
	layout := out.page(s, src)
	layout.Widened, layout.Held, layout.Freed = opt.Widen, opt.Hold, opt.Free
	layout.Line = src.line()
	if err == nil && relieve > 0 && plan.Status == optimize.Impossible {
		if n := len(plan.Reliefs); relieve > n {
			done()
			return &ending{exitInput, fmt.Errorf("--relieve is %d: no plan exists, and %s", relieve, waysOut(n))}
		}
		r := plan.Reliefs[relieve-1]
		layout.Relieved = &report.Relieved{Number: relieve, Relief: r}
		plan, err = optimize.Make(ctx, optimize.Relieve(src.train, r), opt)
	}
	done()
	if err != nil {
		return &ending{exitFault, err}
	}
	if relieve > 0 && layout.Relieved == nil {
		fmt.Fprintf(s.err, "leastmove: --relieve %d was not used: %s\n", relieve, unused(plan.Status))
	}
	write := report.Text
	if format == formatJSON {
		write = report.JSON
	}
	var result bytes.Buffer
	if err := write(&result, plan, layout); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.write(s, result.Bytes()); err != nil {
		return err
	}
	if err := interrupted(ctx); err != nil {
		return err
	}
	return ended(plan.Status)
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
