package cli

import (
	"context"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// newReadings is `leastmove readings`.
func newReadings(s streams) *cobra.Command {
	ask := &request{quick: true, form: form{offers: []string{formatText, formatCSV}}}
	c := s.onTrain(&cobra.Command{
		Use:   "readings FILE",
		Short: "say what the readings of the couplings come to",
		Long: `Read a train file and show what its readings come to: corrections, the offset
and angle of every coupling, how good they are, and the checks that failed.`,
		Example: `  leastmove readings train.toml
  leastmove readings train.toml --format csv -o readings.csv`,
	}, ask, ask.look, readingsOf)
	ask.form.flags(c)
	return c
}

// readingsOf shows what the readings of a train come to.
func readingsOf(_ context.Context, j *job) (answer, error) {
	return answer{write: written(j, view.CheckOf(j.src.train), writers[*view.Check]{
		formatText: pages.ReadingsText, formatCSV: pages.ReadingsCSV,
	})}, nil
}
