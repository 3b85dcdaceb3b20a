package cli

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// moving adds the flags that say which machines may be moved.
func moving(c *cobra.Command, opt *view.Options) {
	c.Flags().StringArrayVar(&opt.Hold, "hold", nil,
		"`machine` that may not be moved, whatever the file says; may be given several times")
	c.Flags().StringArrayVar(&opt.Free, "free", nil,
		"`machine` that may be moved though the file holds it; may be given several times")
	for _, flag := range []string{"hold", "free"} {
		completed(c, flag, completeMachine)
	}
}

// inTrain is the word on machines named by flags that the train does not have, or
// that are both to stay and to be moved.
func inTrain(t *train.Train, opt *view.Options) error {
	all := t.Names()
	opt.Hold, opt.Free = once(opt.Hold), once(opt.Free)
	for _, flag := range []struct {
		name  string
		names []string
	}{{"hold", opt.Hold}, {"free", opt.Free}} {
		for _, name := range flag.names {
			if !slices.Contains(all, name) {
				none := fmt.Errorf("--%s: there is no machine %q in the train: there are %s", flag.name, name, words.And(all))
				return &ending{exitInput, unknown(none, name, all)}
			}
		}
	}
	for _, name := range opt.Hold {
		if slices.Contains(opt.Free, name) {
			return refused("--hold and --free: both name %q; leave one of them", name)
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
