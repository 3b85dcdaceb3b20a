package cli

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
)

// newCompare is `leastmove compare`.
func newCompare(s streams) *cobra.Command {
	f, opt, more := &form{offers: []string{formatText, formatJSON, formatCSV}}, optimize.Options{}, further{}
	c := &cobra.Command{
		Use:   "compare FILE",
		Short: "set ways to move the train side by side",
		Long: `Plan the train by every strategy, with each machine held in turn, and set beside
that what is done without a planner: from each machine outwards every neighbour
to what is wanted (cascade), and everything to the best straight line, limits
not looked at.`,
		Example: `  leastmove compare train.toml
  leastmove compare train.toml --subsets --trade
  leastmove compare train.toml --chart trade.svg
  leastmove compare train.toml --hold gear --format csv -o ways.csv`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := aShare(c.Flags(), opt.Use); err != nil {
				return err
			}
			switch {
			case c.Flags().Changed("work") && opt.Solves < 1:
				return fmt.Errorf("--work is %d: it is at least 1", opt.Solves)
			case c.Flags().Changed("time-limit") && more.limit <= 0:
				return fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", more.limit)
			}
			more.trade = more.trade || more.chart != ""
			return s.compare(args[0], f, opt, more)
		},
	}
	f.flags(c)
	moving(c, &opt)
	c.Flags().Float64Var(&opt.Use, "use", 0, "`share` of every coupling limit that the plans may use, 0 to 1\n(default: the train file's aim)")
	c.Flags().IntVar(&opt.Solves, "work", 0, "most `bounds` worked out in one search (default: 20000, fewer for more\nthan twelve machines)")
	c.Flags().DurationVar(&more.limit, "time-limit", 0, "most `time` for all of it, like 5s or 2m; the result may then\ndiffer from run to run, and says so (default: none)")
	c.Flags().BoolVar(&more.subsets, "subsets", false, fmt.Sprintf("also say which machines can do it with no others moved,\nwhere at most %d may be moved", optimize.MostSubsets))
	c.Flags().BoolVar(&more.trade, "trade", false, "also say what closer alignment costs: the total at shares of the\nlimits from the lowest that can be reached to all of them")
	c.Flags().StringVar(&more.chart, "chart", "", "`file` for a figure of --trade, with --subsets also of the machines\nmoved against the total: .svg, .png or .pdf")
	return c
}

// further is what a comparison is asked for beside its ways.
type further struct {
	subsets, trade bool
	chart          string        // file of the figure; "": none
	limit          time.Duration // of all of it; 0: none
}

func (s streams) compare(name string, f *form, opt optimize.Options, more further) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	if err := inTrain(src.train, &opt); err != nil {
		return err
	}
	figure, err := src.figure(more.chart, out)
	if err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	tell, done := s.progress(src.train.Units)
	opt.Tell = tell
	within, end := ctx, context.CancelFunc(func() {})
	if more.limit > 0 {
		within, end = context.WithTimeout(ctx, more.limit)
	}
	c, err := comparison(within, src, opt, more)
	late := within.Err() != nil && ctx.Err() == nil
	end()
	done()
	if late {
		fmt.Fprintln(s.err, "leastmove: --time-limit: the clock cut the comparison, so another run may end with other plans")
	}
	if err != nil {
		return err
	}
	layout := out.page(s, src)
	layout.Held, layout.Freed = opt.Hold, opt.Free
	write := report.CompareText
	switch f.format {
	case formatJSON:
		write = report.CompareJSON
	case formatCSV:
		write = report.CompareCSV
	}
	var result bytes.Buffer
	if err := write(&result, c, layout); err != nil {
		return &ending{exitFault, err}
	}
	results := []placed{{out, result.Bytes()}}
	if figure != nil {
		drawn, err := tradeDrawn(src.train, c.Trade, c.Subsets, figure.format)
		if err != nil {
			return err
		}
		results = append(results, placed{figure.output, drawn})
	}
	if err := s.place(results...); err != nil {
		return err
	}
	return interrupted(ctx)
}

// comparison is all that was asked for.
func comparison(ctx context.Context, src *source, opt optimize.Options, more further) (*report.Comparison, error) {
	if n := optimize.Movable(src.train, opt); more.subsets && n > optimize.MostSubsets {
		return nil, &ending{exitInput, fmt.Errorf("--subsets: %d machines may be moved: it is for at most %d; hold some with --hold", n, optimize.MostSubsets)}
	}
	ways, err := optimize.Compare(ctx, src.train, opt)
	if err != nil {
		return nil, &ending{exitFault, err}
	}
	c := &report.Comparison{Ways: ways}
	if more.subsets {
		all, err := optimize.EverySubset(ctx, src.train, opt)
		if err != nil {
			return nil, &ending{exitFault, err}
		}
		c.Subsets = &all
	}
	if more.trade {
		if c.Trade, err = optimize.Pareto(ctx, src.train, opt); err != nil {
			return nil, &ending{exitFault, err}
		}
	}
	return c, nil
}
