// Package cli is the command line of leastmove: one file for each command.
//
// Results go to the standard output or to the file named with -o, everything
// else to the standard error. A command either writes its result whole or
// writes nothing.
package cli

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Exit codes.
const (
	exitDone        = 0   // planned, or nothing needs to move; or the command did what it does
	exitFault       = 1   // anything else: a fault of the program or of the machine it runs on
	exitInput       = 2   // input that can't be used: the train file, the flags
	exitImpossible  = 3   // proven: no plan exists, or none with the chance asked for; or limits are broken, by a plan that was given or after the moves
	exitUndecided   = 4   // neither a plan nor a proof was found
	exitInterrupted = 130 // stopped from outside
)

// The exit codes in the help: of plan and of all commands, of those that
// plan nothing, of compare, and of those that read no train file.
const (
	exitTextPlan = `Exit codes:
  0    planned, or nothing needs to move
  1    anything else: a fault of the program or of the machine it runs on
  2    input that can't be used
  3    no plan exists, or none with the chance asked for (proven);
       with --plan: the plan breaks a limit
  4    undecided: neither a plan nor a proof was found
  130  interrupted
`
	exitTextCheck = `Exit codes:
  0    the file can be used, whatever the train is like
  1    anything else: a fault of the program or of the machine it runs on
  2    input that can't be used
  130  interrupted
`
	exitTextCompare = `Exit codes:
  0    the ways were set side by side, whether or not there is a plan among them
  1    anything else: a fault of the program or of the machine it runs on
  2    input that can't be used
  130  interrupted
`
	exitTextPlain = `Exit codes:
  0    done
  1    anything else: a fault of the program or of the machine it runs on
  2    input that can't be used
`
)

// An ending is how a command ends other than with exitDone. Where there is
// no error the result says all.
type ending struct {
	code int
	err  error
}

func (e *ending) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.err.Error()
}

func (e *ending) Unwrap() error { return e.err }

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// Run runs the command that the arguments name and gives its exit code.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(stderr, "leastmove: fault of the program, please report it with the train file: %v\n%s", p, debug.Stack())
			code = exitFault
		}
	}()
	root := newRoot(streams{stdin, stdout, stderr})
	root.SetArgs(args)
	run, err := root.ExecuteC()
	if err == nil {
		return exitDone
	}
	var e *ending
	if errors.As(err, &e) {
		if e.err != nil {
			fmt.Fprintf(stderr, "leastmove: %s\n", printable(e.err))
		}
		return e.code
	}
	// Everything that a command itself says is an ending: this is cobra's word
	// on the arguments.
	fmt.Fprintf(stderr, "leastmove: %s\nRun '%s --help' for how it is used.\n", printable(err), run.CommandPath())
	return exitInput
}

// printable is an error as a terminal may have it: names of files may hold what
// garbles one.
func printable(err error) string {
	return strings.Map(func(c rune) rune {
		if c != '\n' && !unicode.IsPrint(c) {
			return utf8.RuneError
		}
		return c
	}, err.Error())
}

// shown is the name of a file without its folders, as a page or a comment may have it.
func shown(name string) string {
	return strings.Map(func(c rune) rune {
		if !unicode.IsPrint(c) {
			return utf8.RuneError
		}
		return c
	}, filepath.Base(name))
}

// stated refuses flags that are given as nothing, as by a shell's variable that is
// empty, and names with a line break, which would be taken for another line of a message.
func stated(c *cobra.Command, args []string) error {
	var err error
	c.Flags().Visit(func(f *pflag.Flag) {
		if err == nil && f.Value.Type() == "string" && f.Value.String() == "" {
			err = fmt.Errorf("--%s is empty: give it a value, or leave it out", f.Name)
		}
		args = append(args, f.Value.String())
	})
	for _, a := range args {
		if err == nil && strings.ContainsAny(a, "\r\n") {
			err = fmt.Errorf("%q holds a line break", a)
		}
	}
	return err
}

func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "leastmove",
		Short: "plan the moves of a train of coupled machines",
		Long: `leastmove plans the moves of a train of coupled machines: the least total foot
movement that brings every coupling within its limits in every condition.
FILE is a train file (TOML); - is the standard input.`,
		Example: `  leastmove plan train.toml                what to move, foot by foot
  leastmove plan train.toml --use 0.5      keep half of every coupling limit in hand
  leastmove compare train.toml             ways to do it, side by side
  leastmove report train.toml -o plan.html all of it as one page with figures
  leastmove sheet train.toml -o sheet.pdf  the crew's work order
  leastmove verify plan.json after.toml    after the moves: what became of the plan
  leastmove check train.toml               how the train stands, and what its feet can do
  leastmove new -o train.toml              a train file to start from`,
		SilenceErrors:     true,
		PersistentPreRunE: stated,
		SilenceUsage:      true,
		Args:              commandNamed,
		RunE:              func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetHelpTemplate(helpTemplate + exitTextPlan)
	root.SetFlagErrorFunc(flagError)
	check := newCheck(s)
	check.SetHelpTemplate(helpTemplate + exitTextCheck)
	ways := newCompare(s)
	ways.SetHelpTemplate(helpTemplate + exitTextCompare)
	reduce := newReadings(s)
	reduce.SetHelpTemplate(helpTemplate + exitTextCheck)
	after := newVerify(s)
	after.SetHelpTemplate(helpTemplate + exitTextVerify)
	start := newNew(s)
	start.SetHelpTemplate(helpTemplate + exitTextNew)
	form, version := newSchema(s), newVersion(s)
	form.SetHelpTemplate(helpTemplate + exitTextPlain)
	version.SetHelpTemplate(helpTemplate + exitTextPlain)
	root.AddCommand(newPlan(s), ways, newReport(s), newChart(s), newSheet(s), after, check, reduce, start, form, version)
	root.AddCommand(topics()...)
	root.SetHelpCommand(newHelp())
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			c.Short = "write a script that completes commands in your shell"
		}
	}
	return root
}

// Command is the program's command and all below it, to be described: man pages
// and completions are made from it.
func Command() *cobra.Command { return newRoot(streams{}) }
