package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
)

// newReadings is `leastmove readings`.
func newReadings(s streams) *cobra.Command {
	f := &form{offers: []string{formatText, formatCSV}}
	c := &cobra.Command{
		Use:   "readings FILE",
		Short: "say what the readings of the couplings come to",
		Long: `Read a train file and show what its readings come to: corrections, the offset
and angle of every coupling, how good they are, and the checks that failed.`,
		Example: `  leastmove readings train.toml
  leastmove readings train.toml --format csv -o readings.csv`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return s.readings(args[0], f)
		},
	}
	f.flags(c)
	return c
}

func (s streams) readings(name string, f *form) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	write := report.ReadingsText
	if f.format == formatCSV {
		write = report.ReadingsCSV
	}
	var result bytes.Buffer
	if err := write(&result, src.train, out.page(s, src)); err != nil {
		return &ending{exitFault, err}
	}
	return out.write(s, result.Bytes())
}
