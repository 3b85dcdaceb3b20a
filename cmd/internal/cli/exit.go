package cli

import (
	"errors"
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
)

// Exit codes. What each means stands in exits, from which the help is made.
const (
	exitDone        = 0
	exitFault       = 1
	exitInput       = 2
	exitImpossible  = 3
	exitUndecided   = 4
	exitInterrupted = 130
)

// An exit is an exit code as the help explains it.
type exit struct {
	code  int
	means string
	// of has the commands for which the code means something else; "": they do not
	// end with it.
	of map[string]string
}

// exits are all exit codes, in the order of the help.
func exits() []exit {
	const usable, done = "the file can be used, whatever the train is like", "done"
	return []exit{
		{exitDone, "planned, or nothing needs to move", map[string]string{
			"check": usable, "readings": usable,
			"compare": "the ways were set side by side, whether or not there is a plan among them",
			"verify":  "every coupling is within its limits after the moves",
			"explore": "the page was ended",
			"new":     "the file was written", "schema": done, "version": done,
		}},
		{exitFault, "anything else: a fault of the program or of the machine it runs on", nil},
		{exitInput, "input that can't be used", map[string]string{
			"new": "input that can't be used: the old file, the plan, the flags, a file that\nis there",
		}},
		{exitImpossible, "no plan exists, or none with the chance asked for (proven);\n" +
			"with --plan: the plan breaks a limit", map[string]string{
			"check": "", "readings": "", "compare": "", "explore": "",
			"verify": "a coupling is outside its limits after the moves",
			"new":    "", "schema": "", "version": "",
		}},
		{exitUndecided, "undecided: neither a plan nor a proof was found", map[string]string{
			"check": "", "readings": "", "compare": "", "explore": "", "new": "", "schema": "", "version": "",
			"verify": "undecided: within limits only by readings that do not agree; read again",
		}},
		{exitInterrupted, "interrupted", map[string]string{"explore": "", "new": "", "schema": "", "version": ""}},
	}
}

// exitText is the end of a command's help: its exit codes.
func exitText(command string) string {
	var b strings.Builder
	b.WriteString("Exit codes:\n")
	for _, e := range exits() {
		means, own := e.of[command]
		if !own {
			means = e.means
		}
		if means != "" {
			fmt.Fprintf(&b, "  %-3d  %s\n", e.code, strings.ReplaceAll(means, "\n", "\n       "))
		}
	}
	return b.String()
}

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

// refused is the word on input that can't be used.
func refused(format string, args ...any) error {
	return &ending{exitInput, fmt.Errorf(format, args...)}
}

// fault is an error of the program or the machine, unless it says how the command ends.
func fault(err error) error {
	var e *ending
	if err == nil || errors.As(err, &e) {
		return err
	}
	return &ending{exitFault, err}
}

// codeOf is the exit code of a command that made a plan.
func codeOf(plan *view.Plan) int {
	switch a := plan.ChanceConstraint; {
	case a == nil, a.Reached:
	case a.None:
		return exitImpossible
	default:
		return exitUndecided
	}
	switch plan.Status {
	case view.Planned, view.Within:
		return exitDone
	case view.Impossible:
		return exitImpossible
	case view.Undecided:
		return exitUndecided
	}
	return exitFault
}

// ended is the word on a plan by which the command ends; nil: it is done.
func ended(plan *view.Plan) error {
	switch code := codeOf(plan); code {
	case exitDone:
		return nil
	case exitFault:
		return &ending{code, fmt.Errorf("the plan ended as %s. This is a fault of the program: please report it with "+
			"the train file", plan.Status)}
	default:
		return &ending{code: code}
	}
}
