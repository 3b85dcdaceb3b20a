package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
)

// newCheck is `leastmove check`.
func newCheck(s streams) *cobra.Command {
	f := &form{}
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "say how the train stands, and what its feet can do",
		Long: `Read a train file, say what is wrong with it, and show the train as it was
found: every coupling in every condition, and how far every foot can still go.
Nothing is planned.`,
		Example: `  leastmove check train.toml
  leastmove check train.toml --format json
  leastmove check train.toml --strict      for scripts: a failed check of readings is an error
  leastmove check - < train.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return s.check(args[0], f)
		},
	}
	f.flags(c)
	return c
}

func (s streams) check(name string, f *form) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	write := report.CheckText
	if f.format == formatJSON {
		write = report.CheckJSON
	}
	var result bytes.Buffer
	if err := write(&result, src.train, out.page(s, src)); err != nil {
		return &ending{exitFault, err}
	}
	return out.write(s, result.Bytes())
}
