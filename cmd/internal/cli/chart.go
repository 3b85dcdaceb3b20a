package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/chart"
	"leastmove/optimize"
	"leastmove/train"
)

// tradeoff is the figure that takes more than a plan.
const tradeoff = "tradeoff"

func figureNames() []string { return append(chart.Figures(), tradeoff) }

// newChart is `leastmove chart`.
func newChart(s streams) *cobra.Command {
	f, ask, name := &form{offers: []string{formatHTML}}, &planning{}, ""
	c := &cobra.Command{
		Use:   "chart FILE",
		Short: "draw one figure of a plan: SVG, PNG or PDF",
		Long: `Plan the moves of the train and draw one figure of the report by itself. The end
of the file's name says in which form.`,
		Example: `  leastmove chart train.toml -o train.svg
  leastmove chart train.toml --figure couplings -o couplings.pdf
  leastmove chart train.toml --figure holes --use 0.5 -o holes.png`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := ask.look(c.Flags()); err != nil {
				return err
			}
			if !slices.Contains(figureNames(), name) {
				return unknown(fmt.Errorf("--figure is %q: there are %s", name, listed(figureNames(), "and")), name, figureNames())
			}
			if f.output == "" || f.output == "-" {
				return errors.New("-o is missing: name a file that ends in .svg, .png or .pdf")
			}
			return s.chart(args[0], f, ask, name)
		},
	}
	f.place(c, ":\n.svg, .png or .pdf")
	ask.flags(c)
	c.Flags().StringVar(&name, "figure", "elevation", "`which` figure:\n"+listed(figureNames(), "or"))
	if err := c.RegisterFlagCompletionFunc("figure", cobra.FixedCompletions(figureNames(), cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was made just above
	}
	return c
}

func (s streams) chart(name string, f *form, ask *planning, which string) error {
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(f.output)), ".")
	if !slices.Contains(chart.Formats(), format) {
		return &ending{exitInput, fmt.Errorf("-o: %s does not end in .svg, .png or .pdf", f.output)}
	}
	src, out, err := ask.begin(s, name, f)
	if err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	layout := out.page(s, src)
	ask.Brief = which != tradeoff && ask.relieve == 0
	plan, err := s.make(ctx, src, &layout, ask)
	if err != nil {
		return err
	}
	drawn, err := drawing(ctx, relieved(src.train, &layout), plan, ask.Options, which, format)
	if err != nil {
		return err
	}
	if err := out.finish(ctx, s, drawn); err != nil {
		return err
	}
	return ended(plan)
}

// drawing is one figure of a plan.
func drawing(ctx context.Context, t *train.Train, plan *optimize.Plan, opt optimize.Options, which, format string) ([]byte, error) {
	if which == tradeoff {
		opt.ParetoGap = quickTrade
		trade, err := optimize.Pareto(ctx, t, opt)
		if err != nil {
			return nil, &ending{exitFault, err}
		}
		if err := interrupted(ctx); err != nil {
			return nil, err
		}
		switch trade.Status {
		case optimize.Impossible:
			return nil, &ending{exitImpossible, errors.New("--figure tradeoff: no plan exists (proven), there is nothing to draw")}
		case optimize.Undecided:
			return nil, &ending{exitUndecided, errors.New("--figure tradeoff: no plan within the limits was found, there is nothing to draw")}
		}
		return tradeDrawn(t, trade, nil, format)
	}
	all := chart.Of(which, plan)
	if len(all) == 0 {
		return nil, &ending{exitInput, fmt.Errorf("--figure %s: there is nothing to draw: %s", which, why(which))}
	}
	drawn, err := chart.Stacked(all[0].Title, all).Render(format)
	return drawn, undrawn(err)
}

// tradeDrawn is the figure of a trade-off.
func tradeDrawn(t *train.Train, trade *optimize.ParetoFront, subsets *optimize.Subsets, format string) ([]byte, error) {
	d, err := chart.Trade(t, trade, subsets)
	if err != nil {
		return nil, undrawn(err)
	}
	drawn, err := d.Render(format)
	return drawn, undrawn(err)
}

// why says why there is nothing to draw.
func why(which string) string {
	if which == "holes" {
		return "no foot that may be moved has a hole and a bolt stated"
	}
	return "nothing is moved"
}

func undrawn(err error) error {
	if err == nil {
		return nil
	}
	return &ending{exitFault, fmt.Errorf("the figure could not be drawn: %w", err)}
}
