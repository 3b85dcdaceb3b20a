package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/htmlpage"
	"leastmove/cmd/internal/report"
	"leastmove/cmd/internal/verify"
	"leastmove/optimize"
)

const exitTextVerify = `Exit codes:
  0    every coupling is within its limits after the moves
  1    anything else: a fault of the program or of the machine it runs on
  2    input that can't be used
  3    a coupling is outside its limits after the moves
  130  interrupted
`

// newVerify is `leastmove verify`.
func newVerify(s streams) *cobra.Command {
	f, opt := &form{offers: []string{formatText, formatHTML, formatJSON}}, optimize.Options{}
	c := &cobra.Command{
		Use:   "verify PLAN.json AFTER.toml",
		Short: "after the moves: say what became of the plan",
		Long: `Set what was read after the moves beside the plan: before, planned and after at
every coupling, against its limits and against the errors to expect; which foot
or machine most likely did not go where the plan sent it, and likely causes; and
what is left to do where limits are not met.
PLAN.json is what plan --format json wrote before the moves. AFTER.toml is the
train file with the new readings, and with packs, bolt_at, lower, raise, travel
and level.found as they are now: new --from --plan works them out, to be measured.`,
		Example: `  leastmove plan train.toml --format json -o plan.json
  leastmove new --from train.toml --plan plan.json -o after.toml
                           then make the moves, read and measure, fill in
  leastmove verify plan.json after.toml
  leastmove verify plan.json after.toml --format html -o after.html`,
		Args:              planAndFile,
		ValidArgsFunction: cobra.FixedCompletions(nil, cobra.ShellCompDirectiveDefault),
		RunE: func(c *cobra.Command, args []string) error {
			if err := aShare(c.Flags(), opt.Use); err != nil {
				return err
			}
			return s.verify(args[0], args[1], f, opt)
		},
	}
	f.flags(c)
	c.Flags().Float64Var(&opt.Use, "use", 0, "`share` of every coupling limit that the plan from here may use, 0 to 1\n(default: the train file's aim)")
	return c
}

// planAndFile is the word on the arguments of a command that reads a plan and a
// train file.
func planAndFile(_ *cobra.Command, args []string) error {
	switch {
	case len(args) < 2:
		return errors.New("name two files: the plan that the moves were made by (JSON), and the train file with what was read after them")
	case len(args) > 2:
		return fmt.Errorf("two files, PLAN.json and AFTER.toml: %q is one too many", args[2])
	case args[0] == "" || args[1] == "":
		return errors.New("a file has no name")
	case args[0] == "-" && args[1] == "-":
		return errors.New("the standard input can't be the plan and the train file")
	}
	return nil
}

func (s streams) verify(given, name string, f *form, opt optimize.Options) error {
	if err := f.known(); err != nil {
		return err
	}
	p, info, err := s.planned(given)
	if err != nil {
		return err
	}
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	if err := out.spares(info, given); err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	tell, done := s.progress(src.train.Units)
	opt.Tell, opt.Brief = tell, true
	r, faults, err := verify.Compare(ctx, p, src.train, opt)
	done()
	switch {
	case faults != nil:
		return s.faulty(given, faults)
	case err != nil:
		return &ending{exitFault, err}
	}
	write := report.VerifyText
	switch f.format {
	case formatJSON:
		write = report.VerifyJSON
	case formatHTML:
		write = func(w io.Writer, r *verify.Result, layout report.Page) error {
			return htmlpage.WriteVerified(w, r, layout, shown(given), fileOf(src))
		}
	}
	var result bytes.Buffer
	if err := write(&result, r, out.page(s, src)); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.finish(ctx, s, result.Bytes()); err != nil {
		return err
	}
	if !r.Met() {
		return &ending{code: exitImpossible}
	}
	return nil
}
