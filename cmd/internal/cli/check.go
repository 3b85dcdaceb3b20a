package cli

import (
	"context"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// newCheck is `leastmove check`.
func newCheck(s streams) *cobra.Command {
	ask := &request{quick: true}
	c := s.onTrain(&cobra.Command{
		Use:   "check FILE",
		Short: "say how the train sits, and what its feet can do",
		Long: `Read a train file, say what is wrong with it, and show the train as it was
found: every coupling in every condition, and how far every foot can still go.
Nothing is planned.`,
		Example: `  leastmove check train.toml
  leastmove check train.toml --format json
  leastmove check train.toml --strict      a failed check of readings: error
  leastmove check train.toml --free gear   as if the file did not hold it
  leastmove check - < train.toml`,
	}, ask, ask.look, check)
	ask.form.flags(c)
	moving(c, &ask.Options)
	return c
}

// check looks at a train as it was found.
func check(_ context.Context, j *job) (answer, error) {
	given, err := view.Given(j.src.train, j.Options)
	if err != nil {
		return answer{}, err
	}
	return answer{write: written(j, view.CheckOf(given), writers[*view.Check]{
		formatText: pages.CheckText, formatJSON: checkJSON,
	})}, nil
}
