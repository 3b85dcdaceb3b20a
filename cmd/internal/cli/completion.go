package cli

import (
	"github.com/spf13/cobra"

	"leastmove/train/trainfile"
)

// completed has the words of a flag offered by the shell as offers says. The flag is there:
// that it is not is a fault of the program.
func completed(c *cobra.Command, flag string, offers cobra.CompletionFunc) {
	if err := c.RegisterFlagCompletionFunc(flag, offers); err != nil {
		panic(err)
	}
}

// offered has the shell offer some words and nothing else after a flag.
func offered(c *cobra.Command, flag string, words []string) {
	completed(c, flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// filesOf has the shell offer files with some endings after a flag.
func filesOf(c *cobra.Command, flag string, endings ...string) {
	if err := c.MarkFlagFilename(flag, endings...); err != nil {
		panic(err) // there is no such flag
	}
}

// completeFile offers train files for the one argument of a command.
func completeFile(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// completeFiles offers train files for every argument.
func completeFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// completePlanAndFile offers a plan and then a train file.
func completePlanAndFile(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	switch len(args) {
	case 0:
		return []string{"json"}, cobra.ShellCompDirectiveFilterFileExt
	case 1:
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// completeMachine offers the machines of the train file on the command line.
func completeMachine(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	text, _, err := streams{}.text(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	t, _ := trainfile.Read(args[0], text, trainfile.Options{})
	if t == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return t.Names(), cobra.ShellCompDirectiveNoFileComp
}
