package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// tradeoff is the figure that takes more than a plan.
const tradeoff = "tradeoff"

// Limits of a figure's size, which keep the memory for a PNG below a gigabyte.
const (
	mostDots          = 10000    // across
	mostWidth         = 1200     // mm
	leastDPI, mostDPI = 30, 1200 // dots per inch
)

func figureNames() []string { return append(chart.Figures(), tradeoff) }

// newChart is `leastmove chart`.
func newChart(s streams) *cobra.Command {
	ask, which, format, size := &request{form: form{offers: []string{formatHTML}}}, "", "", chart.Size{}
	look := func(flags *pflag.FlagSet) (err error) {
		if err := ask.look(flags); err != nil {
			return err
		}
		if !slices.Contains(figureNames(), which) {
			return noneOf("figure", which, figureNames(), words.And(figureNames()))
		}
		if ask.output == "" || ask.output == "-" {
			return errors.New("-o is missing: name a file that ends in .svg, .png or .pdf")
		}
		if !(size.Width >= chart.LeastWidth && size.Width <= mostWidth) {
			return fmt.Errorf("--width: %g mm is not from %d to %d: letters of a narrower figure could not be read", size.Width,
				chart.LeastWidth, mostWidth)
		}
		if size.DPI < leastDPI || size.DPI > mostDPI {
			return fmt.Errorf("--dpi: %d is not from %d to %d", size.DPI, leastDPI, mostDPI)
		}
		if dots := size.Width / 25.4 * float64(size.DPI); dots > mostDots {
			return fmt.Errorf("--width and --dpi: %.0f dots across are more than %d", dots, mostDots)
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
  leastmove chart train.toml --figure holes --use 0.5 -o holes.png
  leastmove chart train.toml --width 90 --dpi 600 -o train.png`,
	}, ask, look, func(ctx context.Context, j *job) (answer, error) { return charted(ctx, j, which, format, size) })
	ask.place(c, ": .svg, .png or .pdf")
	filesOf(c, "output", chart.Formats()...)
	ask.planning.flags(c)
	c.Flags().StringVar(&which, "figure", "elevation", "`which` figure: "+words.Or(figureNames()))
	offered(c, "figure", figureNames())
	c.Flags().Float64Var(&size.Width, "width", 170, "width of the figure in `mm`; letters grow with it; under 110 "+
		"machines and words stand below one another")
	c.Flags().IntVar(&size.DPI, "dpi", chart.UsualDPI, "dots per inch of a PNG")
	return c
}

// charted draws one figure of a plan.
func charted(ctx context.Context, j *job, which, format string, size chart.Size) (answer, error) {
	share := 1.
	if which == tradeoff {
		share = 1. / 2
	}
	plan, err := within(ctx, share, j.make)
	if err != nil {
		return answer{}, err
	}
	write, err := drawing(ctx, j, plan, which, format, size)
	return answer{write: write, ending: ended(plan), open: plan.Status == view.Undecided}, err
}

// drawing is one figure of a plan.
func drawing(ctx context.Context, j *job, plan *view.Plan, which, format string,
	size chart.Size) (func(io.Writer) error, error) {
	if err := j.number(plan); err != nil {
		return nil, err
	}
	named, of := words.Clean(cmp.Or(plan.Train.Title, shown(j.src.name))), pages.OnFigure(plan, j.layout.Number)
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
		trade = trade.Know(plan)
		trade.Mark(plan)
		return drawn(chart.Trade(trade, nil).Named(named, of), format, size), nil
	}
	all := chart.Of(which, plan.Figures())
	if len(all) == 0 {
		return nil, refused("--figure %s: there is nothing to draw: %s", which, why(which))
	}
	if which == "signs" { // of no train
		named, of = "", ""
	}
	return drawn(chart.Alone(all).Named(named, of), format, size), nil
}

// drawn is a figure in a format.
func drawn(d chart.Drawing, format string, size chart.Size) func(io.Writer) error {
	return func(w io.Writer) error {
		text, err := d.Sized(format, size)
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
