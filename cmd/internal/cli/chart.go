package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/view"
)

// tradeoff is the figure that takes more than a plan.
const tradeoff = "tradeoff"

func figureNames() []string { return append(chart.Figures(), tradeoff) }

// newChart is `leastmove chart`.
func newChart(s streams) *cobra.Command {
	ask, which, format := &request{form: form{offers: []string{formatHTML}}}, "", ""
	look := func(flags *pflag.FlagSet) (err error) {
		if err := ask.look(flags); err != nil {
			return err
		}
		if !slices.Contains(figureNames(), which) {
			return noneOf("figure", which, figureNames(), listed(figureNames(), "and"))
		}
		if ask.output == "" || ask.output == "-" {
			return errors.New("-o is missing: name a file that ends in .svg, .png or .pdf")
		}
		format, err = drawable("-o", ask.output)
		return err
	}
	c := s.onTrain(&cobra.Command{
		Use:   "chart FILE",
		Short: "draw one figure of a plan: SVG, PNG or PDF",
		Long: `Plan the moves of the train and draw one figure of the report by itself. The end
of the file's name says in which form.`,
		Example: `  leastmove chart train.toml -o train.svg
  leastmove chart train.toml --figure couplings -o couplings.pdf
  leastmove chart train.toml --figure holes --use 0.5 -o holes.png`,
	}, ask, look, func(ctx context.Context, j *job) (answer, error) { return charted(ctx, j, which, format) })
	ask.place(c, ":\n.svg, .png or .pdf")
	filesOf(c, "output", chart.Formats()...)
	ask.planning.flags(c)
	c.Flags().StringVar(&which, "figure", "elevation", "`which` figure:\n"+listed(figureNames(), "or"))
	offered(c, "figure", figureNames())
	return c
}

// charted draws one figure of a plan.
func charted(ctx context.Context, j *job, which, format string) (answer, error) {
	j.Brief = which != tradeoff && j.relieve == 0
	plan, err := j.make(ctx)
	if err != nil {
		return answer{}, err
	}
	write, err := drawing(ctx, j, plan, which, format)
	return answer{write: write, ending: ended(plan), open: plan.Status == view.Undecided}, err
}

// drawing is one figure of a plan.
func drawing(ctx context.Context, j *job, plan *view.Plan, which, format string) (func(io.Writer) error, error) {
	if which == tradeoff {
		opt := j.Options
		opt.ParetoGap = quickTrade
		trade, err := view.TradeOff(ctx, j.planned(), opt)
		if err != nil {
			return nil, err
		}
		switch trade.Status {
		case view.Impossible:
			return nil, &ending{exitImpossible, errors.New("--figure tradeoff: no plan exists (proven), " +
				"there is nothing to draw")}
		case view.Undecided:
			return nil, &ending{exitUndecided, errors.New("--figure tradeoff: no plan within the limits was found, " +
				"there is nothing to draw")}
		}
		return tradeDrawn(trade, nil, format), nil
	}
	all := chart.Of(which, plan.Figures())
	if len(all) == 0 {
		return nil, refused("--figure %s: there is nothing to draw: %s", which, why(which))
	}
	return drawn(chart.Stacked(all[0].Title, all), format), nil
}

// tradeDrawn is the figure of a trade-off.
func tradeDrawn(trade *view.Trade, subsets *view.Subsets, format string) func(io.Writer) error {
	return func(w io.Writer) error {
		d, err := chart.Trade(trade, subsets)
		if err != nil {
			return undrawn(err)
		}
		return drawn(d, format)(w)
	}
}

// drawn is a figure in a format.
func drawn(d chart.Drawing, format string) func(io.Writer) error {
	return func(w io.Writer) error {
		text, err := d.Render(format)
		if err != nil {
			return undrawn(err)
		}
		_, err = w.Write(text)
		return err
	}
}

func undrawn(err error) error { return fmt.Errorf("the figure could not be drawn: %w", err) }

// why says why there is nothing to draw.
func why(which string) string {
	if which == "holes" {
		return "no foot that may be moved has a hole and a bolt stated"
	}
	return "nothing is moved"
}
