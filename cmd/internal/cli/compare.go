package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// further is what a comparison is asked for beside its ways.
type further struct {
	subsets, trade bool
}

// newCompare is `leastmove compare`.
func newCompare(s streams) *cobra.Command {
	ask, more := &request{form: form{offers: []string{formatText, formatJSON, formatCSV}}}, further{}
	c := s.onTrain(&cobra.Command{
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
	}, ask, ask.look, func(ctx context.Context, j *job) (answer, error) { return compare(ctx, j, more) })
	ask.form.flags(c)
	moving(c, &ask.Options)
	c.Flags().Float64Var(&ask.Use, "use", 0,
		"`share` of every coupling limit that the plans may use, 0 to 1 (default: the train file's aim)")
	c.Flags().IntVar(&ask.Solves, "work", 0,
		"most `bounds` worked out in one search (default: 40000, fewer for more than twelve machines)")
	c.Flags().DurationVar(&ask.Limit, "time-limit", 0,
		"most `time` for all of it, like 5s or 2m; the result may then "+
			"differ from run to run, and says so (default: none)")
	c.Flags().BoolVar(&more.subsets, "subsets", false, fmt.Sprintf("also say which machines can do it with no "+
		"others moved, where at most %d may be moved", view.MostSubsets))
	c.Flags().BoolVar(&more.trade, "trade", false,
		"also say what closer alignment costs: the total at shares of the "+
			"limits from the lowest that can be reached to all of them")
	c.Flags().StringVar(&ask.chart, "chart", "",
		"`file` for a figure of --trade, with --subsets also of the machines moved against the total: .svg, .png or .pdf")
	filesOf(c, "chart", chart.Formats()...)
	return c
}

// compare sets ways to move a train side by side.
func compare(ctx context.Context, j *job, more further) (answer, error) {
	c, err := comparison(ctx, j, more)
	if err != nil {
		return answer{}, err
	}
	a := answer{
		write: written(j, c, writers[*view.Comparison]{
			formatText: pages.CompareText, formatJSON: compareJSON, formatCSV: pages.CompareCSV,
		}),
		open: c.Ways[0].Plan.Status == view.Undecided,
	}
	if j.figure != nil {
		c.Trade.Mark(c.Ways[0].Plan)
		d := chart.Trade(c.Trade, c.Subsets).Named(words.Clean(cmp.Or(c.Train.Title, shown(j.src.name))),
			pages.OnFigure(c.Ways[0].Plan, ""))
		a.figure = drawn(d, j.figure.format, chart.Size{})
	}
	return a, nil
}

// comparison is all that was asked for, within the limit of time.
func comparison(ctx context.Context, j *job, more further) (*view.Comparison, error) {
	opt := j.Options
	if n := view.Movable(j.src.train, opt); more.subsets && n > view.MostSubsets {
		return nil, refused("--subsets: %d machines may be moved: it is for at most %d; "+
			"hold some with --hold", n, view.MostSubsets)
	}
	defer func() {
		if errors.Is(ctx.Err(), context.DeadlineExceeded) {
			j.notes = append(j.notes, "--time-limit: the clock cut the comparison, so another run may end with other plans")
		}
	}()
	c, err := view.CompareWays(ctx, j.src.train, opt, nil)
	if err != nil {
		return nil, err
	}
	if more.subsets {
		if c.Subsets, err = view.EverySubset(ctx, j.src.train, opt); err != nil {
			return nil, err
		}
	}
	if more.trade || j.figure != nil {
		if c.Trade, err = view.TradeOff(ctx, j.src.train, opt); err != nil {
			return nil, err
		}
		c.Trade = c.Trade.Know(c.Planned()...)
	}
	return c, nil
}
