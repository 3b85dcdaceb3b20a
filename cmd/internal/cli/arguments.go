package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// oneFile is the word on the arguments of a command that reads one train file.
func oneFile(c *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return errors.New("no FILE: name a train file, or - for the standard input")
	case len(args) > 1:
		return fmt.Errorf("one FILE at a time: %q is one too many", args[1])
	case args[0] == "":
		return errors.New("FILE is empty")
	}
	return nil
}

// planAndFile is the word on the arguments of a command that reads a plan and a
// train file.
func planAndFile(_ *cobra.Command, args []string) error {
	switch {
	case len(args) < 2:
		return errors.New("name two files: the plan that the moves were made by (JSON), and the train file with what " +
			"was read after them")
	case len(args) > 2:
		return fmt.Errorf("two files, PLAN.json and AFTER.toml: %q is one too many", args[2])
	case args[0] == "" || args[1] == "":
		return errors.New("a file has no name")
	case args[0] == "-" && args[1] == "-":
		return errors.New("the standard input can't be the plan and the train file")
	}
	return nil
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
