package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// newPlan is `leastmove plan`.
func newPlan(s streams) *cobra.Command {
	ask := &request{form: form{offers: []string{formatText, formatJSON, formatCSV}}}
	parts := &pageParts{}
	look := func(flags *pflag.FlagSet) error {
		if ask.plan != "" {
			for _, other := range []string{"strategy", "relieve", "widen", "assure"} {
				if flags.Changed(other) {
					return fmt.Errorf("--%s goes with a plan that is to be made, --plan with one that is there: "+
						"leave one of them", other)
				}
			}
		}
		if err := ask.look(flags); err != nil {
			return err
		}
		if err := parts.look(flags, ask); err != nil {
			return err
		}
		if ask.plan == "-" && flags.Arg(0) == "-" {
			return refused("--plan: the standard input can't be the train file and the plan")
		}
		return nil
	}
	c := s.onTrain(&cobra.Command{
		Use:   "plan FILE",
		Short: "say what to move, foot by foot",
		Long: `Plan the moves of the train: the least total movement that keeps every coupling
within the aim in every condition, and every foot within what it can do.`,
		Example: `  leastmove plan train.toml
  leastmove plan train.toml --full         all there is to say of it
  leastmove plan train.toml --show shims,cold
  leastmove plan train.toml --use 0.5
  leastmove plan train.toml --strategy fewest-machines --hold gear
  leastmove plan train.toml --assure 0.95  the least movement with that chance
  leastmove plan train.toml --format json -o plan.json
  leastmove plan train.toml --format csv -o moves.csv   moves for a spreadsheet
  leastmove plan train.toml --relieve 1    no plan? with the first option
  leastmove plan train.toml --plan mine.json   what moves of your own do
  leastmove plan - < train.toml`,
	}, ask, look, func(ctx context.Context, j *job) (answer, error) {
		j.layout.Full, j.layout.Show = parts.full, parts.names
		if j.given != nil {
			return replay(ctx, j)
		}
		return plan(ctx, j)
	})
	ask.form.flags(c)
	ask.planning.flags(c)
	parts.flags(c)
	c.Flags().StringVar(&ask.plan, "plan", "",
		"`file` of a plan (JSON) that you wrote or changed: say what it does, instead of making one")
	filesOf(c, "plan", "json")
	return c
}

// plan makes a plan.
func plan(ctx context.Context, j *job) (answer, error) {
	p, err := j.make(ctx)
	if err != nil {
		return answer{}, err
	}
	return answer{
		write: written(j, p, writers[*view.Plan]{
			formatText: pages.Text, formatJSON: planJSON, formatCSV: pages.PlanCSV,
		}),
		ending: ended(p),
		open:   p.Status == view.Undecided,
	}, nil
}
