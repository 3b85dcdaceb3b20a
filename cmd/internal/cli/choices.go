package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/optimize"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// moving adds the flags that say which machines may be moved.
func moving(c *cobra.Command, opt *optimize.Options) {
	c.Flags().StringArrayVar(&opt.Hold, "hold", nil, "`machine` that may not be moved, whatever the file says;\nmay be given several times")
	c.Flags().StringArrayVar(&opt.Free, "free", nil, "`machine` that may be moved though the file holds it;\nmay be given several times")
	for _, flag := range []string{"hold", "free"} {
		if err := c.RegisterFlagCompletionFunc(flag, completeMachine); err != nil {
			panic(err) // the flags were made just above
		}
	}
}

// completeMachine offers the machines of the train file on the command line.
func completeMachine(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	text, _, err := streams{}.text(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	t, _ := trainfile.Read(args[0], text, trainfile.Options{})
	if t == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return machines(t), cobra.ShellCompDirectiveNoFileComp
}

func machines(t *train.Train) []string {
	var names []string
	for i := range t.Machines {
		names = append(names, t.Machines[i].Name)
	}
	return names
}

// inTrain is the word on machines named by flags that the train does not have, or
// that are both to stay and to be moved.
func inTrain(t *train.Train, opt *optimize.Options) error {
	all := machines(t)
	opt.Hold, opt.Free = once(opt.Hold), once(opt.Free)
	for _, flag := range []struct {
		name  string
		names []string
	}{{"hold", opt.Hold}, {"free", opt.Free}} {
		for _, name := range flag.names {
			if !slices.Contains(all, name) {
				return &ending{exitInput, unknown(fmt.Errorf("--%s: there is no machine %q in the train: there are %s", flag.name, name, listed(all, "and")), name, all)}
			}
		}
	}
	for _, name := range opt.Hold {
		if slices.Contains(opt.Free, name) {
			return &ending{exitInput, fmt.Errorf("--hold and --free: both name %q; leave one of them", name)}
		}
	}
	return nil
}

// once are some names without repeats.
func once(names []string) []string {
	var out []string
	for _, n := range names {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// unknown adds the nearest of some names to the word on one that is not among
// them.
func unknown(err error, name string, names []string) error {
	if near := nearest(name, names); near != "" {
		return fmt.Errorf("%w\n  did you mean %s?", err, near)
	}
	return err
}

// aShare is the word on a --use that is no share of the limits.
func aShare(flags *pflag.FlagSet, use float64) error {
	if flags.Changed("use") && !(use > 0 && use <= 1) {
		return fmt.Errorf("--use is %g: a share of the coupling limits is above 0 and at most 1", use)
	}
	return nil
}

// strategies are the words for --strategy.
func strategies() []string {
	var names []string
	for _, s := range optimize.Strategies() {
		names = append(names, string(s))
	}
	return names
}

// aStrategy is the word on a strategy that is none.
func aStrategy(name string) error {
	if slices.Contains(strategies(), name) {
		return nil
	}
	return unknown(fmt.Errorf("--strategy is %q: there are %s", name, strings.Join(strategies(), ", ")), name, strategies())
}
