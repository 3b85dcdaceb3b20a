package cli

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/htmlpage"
	"leastmove/cmd/internal/report"
	"leastmove/optimize"
	"leastmove/train"
)

// newReport is `leastmove report`.
func newReport(s streams) *cobra.Command {
	f, ask := &form{offers: []string{formatHTML}}, &planning{}
	c := &cobra.Command{
		Use:   "report FILE",
		Short: "write all that is known of a plan as one page with figures (HTML)",
		Long: `Plan the moves of the train and write one page of HTML that stands by itself:
the answer, the train before and after, moves, couplings, bolts and packs, what
limits the plan, strategies and trade-off, readings, growth, how sure it is, and
an appendix to check every number. It needs no network and no script, and prints
on A4 and Letter.`,
		Example: `  leastmove report train.toml -o report.html
  leastmove report train.toml --use 0.5 -o report.html
  leastmove report train.toml --relieve 1 -o report.html    with the first way out`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := ask.look(c.Flags()); err != nil {
				return err
			}
			return s.report(args[0], f, ask)
		},
	}
	f.place(c, "\n(default: the standard output)")
	ask.flags(c)
	return c
}

func (s streams) report(name string, f *form, ask *planning) error {
	src, out, err := ask.begin(s, name, f)
	if err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	layout := out.page(s, src)
	study, err := s.study(ctx, src, &layout, ask)
	if err != nil {
		return err
	}
	var result bytes.Buffer
	if err := htmlpage.Write(&result, study, layout, fileOf(src)); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.finish(ctx, s, result.Bytes()); err != nil {
		return err
	}
	return ended(study.Plan)
}

// fileOf is what a page says of the train file.
func fileOf(src *source) htmlpage.File {
	info, _ := debug.ReadBuildInfo()
	return htmlpage.File{Name: shown(src.name), Text: src.text, Sum: fmt.Sprintf("%x", sha256.Sum256(src.text)), Program: versionOf(info)}
}

// quickTrade is the gap to which the report searches the trade-off: all of it
// together is to take less than a second for five machines.
const quickTrade = 0.02

// A tried is a trade-off under way.
type tried struct {
	trade *optimize.ParetoFront
	err   error
	panic any // a fault of the program, told where all others are; nil: none
}

// study is a plan and what is looked at beside it. The trade-off takes as long as
// all else, so it is worked out at the same time; what comes of it does not depend
// on that.
func (s streams) study(ctx context.Context, src *source, layout *report.Page, ask *planning) (*report.Study, error) {
	trading, stop := context.WithCancel(ctx)
	defer stop()
	early := tradeOff(trading, src.train, ask.Options)
	plan, err := s.make(ctx, src, layout, ask)
	if err != nil {
		return nil, err
	}
	study := &report.Study{Plan: plan}
	if plan.Status != optimize.Planned {
		study.Omitted = []string{"Strategies and the trade-off are left out: there is no plan to set others beside."}
		if plan.Status == optimize.Within {
			study.Omitted = []string{"Strategies and the trade-off are left out: nothing needs to move. leastmove compare --trade has them."}
		}
		return study, nil
	}
	t := relieved(src.train, layout)
	if layout.Relieved != nil {
		stop()
		early = tradeOff(ctx, t, ask.Options)
	}
	opt := ask.Options
	opt.From = plan // for those that start from the same aim
	tell, done := s.progress(t.Units)
	opt.Tell = tell
	ways, err := optimize.Compare(ctx, t, opt)
	done()
	if err != nil {
		return nil, &ending{exitFault, err}
	}
	trade := <-early
	if trade.panic != nil {
		panic(trade.panic)
	}
	if trade.err != nil {
		return nil, &ending{exitFault, trade.err}
	}
	study.Comparison = &report.Comparison{Ways: ways, Trade: trade.trade}
	study.Omitted = []string{fmt.Sprintf("The trade-off was searched until each total was proven to within %g %%: leastmove compare --trade goes further.", 100*quickTrade), "Which sets of machines can do it alone is left out: leastmove compare --subsets has that."}
	if opt.Limit > 0 {
		study.Omitted = append(study.Omitted, "The clock limited every search: what it cut may come out otherwise in another run.")
	}
	return study, nil
}

// relieved is a train with the way out that it was planned with.
func relieved(t *train.Train, layout *report.Page) *train.Train {
	if layout.Relieved == nil {
		return t
	}
	return optimize.Relax(t, layout.Relieved.Relaxation)
}

// tradeOff works the trade-off out beside other work.
func tradeOff(ctx context.Context, t *train.Train, opt optimize.Options) <-chan tried {
	done := make(chan tried, 1)
	opt.ParetoGap = quickTrade
	go func() {
		var out tried
		defer func() {
			out.panic = recover()
			done <- out
		}()
		out.trade, out.err = optimize.Pareto(ctx, t, opt)
	}()
	return done
}
