// Package cli is the command line of leastmove: one way that all commands go which read a
// train file (pipeline.go), and one file for each command, with what is special to it.
//
// Results go to the standard output or to the file named with -o, everything
// else to the standard error. A command either writes its result whole or
// writes nothing.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"
	"strings"

	"leastmove/train/spelling"

	"github.com/spf13/cobra"
)

// streams are where a command reads and writes, and what interrupts it.
type streams struct {
	in       io.Reader
	out, err io.Writer
	context  func() (context.Context, context.CancelFunc) // nil: an interrupt of the process ends it
	kept     *Kept                                        // nil: nothing is kept
}

// Run runs the command that the arguments name and gives its exit code.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return streams{in: stdin, out: stdout, err: stderr}.command(args)
}

// command runs the command that the arguments name and gives its exit code.
func (s streams) command(args []string) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(s.err, "leastmove: fault of the program, please report it with the train file: %v\n%s",
				p, debug.Stack())
			code = exitFault
		}
	}()
	root := newRoot(s)
	root.SetArgs(args)
	run, err := root.ExecuteC()
	if err == nil {
		return exitDone
	}
	var e *ending
	if errors.As(err, &e) {
		if e.err != nil {
			fmt.Fprintf(s.err, "leastmove: %s\n", printable(e.err))
		}
		return e.code
	}
	// Everything that a command itself says is an ending: this is cobra's word
	// on the arguments.
	fmt.Fprintf(s.err, "leastmove: %s\nRun '%s --help' for how it is used.\n", printable(err), run.CommandPath())
	return exitInput
}

// printable is an error as a terminal may have it, line by line: names of files may hold what
// garbles one.
func printable(err error) string {
	lines := strings.Split(err.Error(), "\n")
	for i := range lines {
		lines[i] = spelling.Printable(lines[i])
	}
	return strings.Join(lines, "\n")
}

// shown is the name of a file without its folders, as a page or a comment may have it.
func shown(name string) string { return spelling.Printable(filepath.Base(name)) }

func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "leastmove",
		Short: "plan the moves of a train of coupled machines",
		Long: `leastmove plans the moves of a train of coupled machines: the least total foot
movement that brings every coupling within its limits in every condition.
FILE is a train file (TOML); - is the standard input.`,
		Example: `  leastmove plan train.toml                what to move, foot by foot
  leastmove plan train.toml --use 0.5      keep half of every limit as margin
  leastmove compare train.toml             ways to do it, side by side
  leastmove report train.toml -o plan.html all of it as one page with figures
  leastmove sheet train.toml -o sheet.pdf  the crew's work order
  leastmove verify plan.json after.toml    after the moves: what became of it
  leastmove check train.toml               how it stands, what its feet can do
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
	root.SetHelpTemplate(helpTemplate + exitText(root.Name()))
	root.SetFlagErrorFunc(flagError)
	for _, c := range []*cobra.Command{
		newPlan(s), newCompare(s), newExplore(s), newReport(s), newChart(s), newSheet(s), newVerify(s),
		newCheck(s), newReadings(s), newNew(s), newSchema(s), newVersion(s),
	} {
		c.SetHelpTemplate(helpTemplate + exitText(c.Name()))
		root.AddCommand(c)
	}
	root.AddCommand(s.topics(root.Commands())...)
	root.SetHelpCommand(newHelp(s))
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
