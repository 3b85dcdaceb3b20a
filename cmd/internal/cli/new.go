package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/starter"
)

// newNew is `leastmove new`.
func newNew(s streams) *cobra.Command {
	ask, r, to := trainAsked{}, renewal{}, ""
	c := &cobra.Command{
		Use:   "new",
		Short: "write a train file to start from",
		Long: `Write a short train file for your own numbers (leastmove help start); or,
with --from, the train of an old file without its readings, for the next visit.
With --plan besides, the moves of that plan count as made: the new file has the
packs, the places of bolts in their holes, what is left of lower, raise and
travel, of level and of nozzles as they would be then. Measure them.
Nothing goes over a file that is there.`,
		Example: `  leastmove new --machines motor,gear,pump --readings reverse -o train.toml
  leastmove new --machines 5 --gear 2,4 --units inch
  leastmove new --from train.toml -o nextvisit.toml
  leastmove new --from train.toml --plan plan.json -o after.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("%q is one word too many: the new file is named with -o, an old one with --from", args[0])
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, _ []string) error {
			if c.Flags().Changed("from") {
				for _, other := range []string{"machines", "units", "gear", "readings"} {
					if c.Flags().Changed(other) {
						return fmt.Errorf("--%s goes with a new train, --from with one that there is: leave one of them", other)
					}
				}
				return s.renew(r, to)
			}
			switch {
			case r.bands != "":
				return errors.New("--bands goes with --from: a new train has limits of its own")
			case c.Flags().Changed("plan"):
				return errors.New("--plan goes with --from: name the train file that the plan was made from")
			}
			o, err := ask.options()
			if err != nil {
				return err
			}
			return s.fresh(to, starter.Write(o))
		},
	}
	c.Flags().StringVar(&ask.machines, "machines", "motor,gear,pump",
		fmt.Sprintf("`names` of the machines with commas between them, or how many, "+
			"2 to %d; one that is called a gear is one", starter.Most))
	c.Flags().StringVar(&ask.gears, "gear", "", "`numbers` or names of machines that are gears, with two shafts, like 2,4")
	c.Flags().StringVar(&ask.readings, "readings", "", "`kinds` of readings: reverse (dials on both rims), rim-face or "+
		"offset; one for all couplings, or one each with commas between them (default: offset and angle)")
	c.Flags().StringVar(&ask.units, "units", "mm", "`mm` (moves in mm) or inch (moves in mils)")
	c.Flags().StringVar(&r.from, "from", "", "old train `file`: carry over all but what was read")
	c.Flags().StringVar(&r.plan, "plan", "", "plan `file` (JSON), with --from: its moves count as made")
	c.Flags().StringVar(&r.bands, "bands", "", "`file` of limits by speed that the old train goes by")
	c.Flags().StringVarP(&to, "output", "o", "",
		"`file` that is written; never one that is there (default: the standard output)")
	offered(c, "units", []string{"mm", "inch"})
	offered(c, "readings", starter.Kinds())
	filesOf(c, "from", "toml")
	filesOf(c, "plan", "json")
	filesOf(c, "bands", "toml")
	return c
}

// fresh writes a file that is not there yet, whole or not at all.
func (s streams) fresh(to, text string) error {
	if to == "" || to == "-" {
		if _, err := fmt.Fprint(s.out, text); err != nil {
			return &ending{exitFault, fmt.Errorf("the result could not be written: %w", err)}
		}
		return nil
	}
	if _, err := os.Lstat(to); err == nil {
		return refused("-o: %s is there already, and nothing goes over it: name another file", to)
	}
	if folder, err := os.Stat(filepath.Dir(to)); err != nil || !folder.IsDir() {
		return refused("-o: there is no folder %s", filepath.Dir(to))
	}
	switch err := pour(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, []byte(text)); {
	case errors.Is(err, fs.ErrExist):
		return refused("-o: %s is there already, and nothing goes over it: name another file", to)
	case errors.Is(err, fs.ErrPermission):
		return refused("-o: %w", err)
	case err != nil:
		os.Remove(to) // it was made just now
		return &ending{exitFault, fmt.Errorf("the result could not be written: %w", err)}
	}
	return nil
}
