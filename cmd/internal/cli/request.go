package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
)

// A request is a plan as the command line asks for it.
type request struct {
	optimize.Options
	gap      float64 // per cent
	relieve  int     // number of a way out; 0: none
	strategy string
}

// flags adds those that say how to plan.
func (q *request) flags(c *cobra.Command) {
	c.Flags().StringVar(&q.strategy, "strategy", string(optimize.LeastTotal), "`what` to make least first: "+strings.Join(strategies(), ",\n"))
	if err := c.RegisterFlagCompletionFunc("strategy", cobra.FixedCompletions(strategies(), cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was made just above
	}
	moving(c, &q.Options)
	c.Flags().Float64Var(&q.Use, "use", 0, "`share` of every coupling limit that the plan may use, 0 to 1\n(0.7 keeps 30 % in hand; default: the train file's aim)")
	c.Flags().Float64Var(&q.gap, "gap", 0.1, "how far in `per cent` a total may be above the proven bound\nto count as least")
	c.Flags().IntVar(&q.Solves, "work", 0, "most `bounds` worked out in one search (default: 20000, fewer for more\nthan twelve machines); the same file gives the same plan on every\ncomputer with the same kind of processor")
	c.Flags().DurationVar(&q.Limit, "time-limit", 0, "most `time` to search, like 5s or 2m; the plan may then\ndiffer from run to run, and says so (default: none)")
	c.Flags().IntVar(&q.relieve, "relieve", 0, "where no plan exists, plan with the way out of this `number`\nin the list of ways out")
	c.Flags().BoolVar(&q.Widen, "widen", false, "where no plan exists, look at wider coupling limits\nas a way out too")
}

// known is the word on flags that can't be used.
func (q *request) known(flags *pflag.FlagSet) error {
	if err := aShare(flags, q.Use); err != nil {
		return err
	}
	switch {
	case !(q.gap > 0 && q.gap <= 100):
		return fmt.Errorf("--gap is %g: a gap in per cent is above 0 and at most 100", q.gap)
	case flags.Changed("work") && q.Solves < 1:
		return fmt.Errorf("--work is %d: it is at least 1", q.Solves)
	case flags.Changed("time-limit") && q.Limit <= 0:
		return fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", q.Limit)
	case flags.Changed("relieve") && q.relieve < 1:
		return fmt.Errorf("--relieve is %d: it is the number of a way out, from 1", q.relieve)
	}
	if err := aStrategy(q.strategy); err != nil {
		return err
	}
	q.Gap, q.Strategy = q.gap/100, optimize.Strategy(q.strategy)
	return nil
}

// planned is the plan that was asked for. Where a relief is asked for and no plan
// exists, it is the one with the relief of that number.
func (s streams) planned(ctx context.Context, src *source, out output, q *request) (*optimize.Plan, report.Page, error) {
	opt := q.Options
	tell, done := s.progress(src.train.Units)
	opt.Tell = tell
	plan, err := optimize.Make(ctx, src.train, opt)
	layout := out.page(s, src)
	layout.Widened, layout.Held, layout.Freed = opt.Widen, opt.Hold, opt.Free
	layout.Line = src.line()
	if err == nil && q.relieve > 0 && plan.Status == optimize.Impossible {
		if n := len(plan.Reliefs); q.relieve > n {
			done()
			return nil, layout, &ending{exitInput, fmt.Errorf("--relieve is %d: no plan exists, and %s", q.relieve, waysOut(n))}
		}
		r := plan.Reliefs[q.relieve-1]
		layout.Relieved = &report.Relieved{Number: q.relieve, Relief: r}
		plan, err = optimize.Make(ctx, optimize.Relieve(src.train, r), opt)
	}
	done()
	if err != nil {
		return nil, layout, &ending{exitFault, err}
	}
	if q.relieve > 0 && layout.Relieved == nil {
		fmt.Fprintf(s.err, "leastmove: --relieve %d was not used: %s\n", q.relieve, unused(plan.Status))
	}
	return plan, layout, nil
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
