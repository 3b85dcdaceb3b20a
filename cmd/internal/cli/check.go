package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/optimize"
)

// newCheck is `leastmove check`.
func newCheck(s streams) *cobra.Command {
	f, opt := &form{}, optimize.Options{}
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "say how the train stands, and what its feet can do",
		Long: `Read a train file, say what is wrong with it, and show the train as it was
found: every coupling in every condition, and how far every foot can still go.
Nothing is planned.`,
		Example: `  leastmove check train.toml
  leastmove check train.toml --format json
  leastmove check train.toml --strict      for scripts: a failed check of readings is an error
  leastmove check train.toml --free gear   as if the file did not hold it
  leastmove check - < train.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return s.check(args[0], f, opt)
		},
	}
	f.flags(c)
	moving(c, &opt)
	return c
}

func (s streams) check(name string, f *form, opt optimize.Options) error {
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	if err := inTrain(src.train, &opt); err != nil {
		return err
	}
	given, err := optimize.Given(src.train, opt)
	if err != nil {
		return &ending{exitFault, err}
	}
	layout := out.page(s, src)
	layout.Held, layout.Freed = opt.Hold, opt.Free
	write := report.CheckText
	if f.format == formatJSON {
		write = report.CheckJSON
	}
	var result bytes.Buffer
	if err := write(&result, given, layout); err != nil {
		return &ending{exitFault, err}
	}
	return out.write(s, result.Bytes())
}
