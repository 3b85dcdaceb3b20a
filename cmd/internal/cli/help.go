package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// helpTemplate gives examples first.
const helpTemplate = `{{if .HasExample}}Examples:
{{.Example}}

{{end}}{{with or .Long .Short}}{{. | trimTrailingWhitespaces}}
{{end}}{{if not .IsAdditionalHelpTopicCommand}}
Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} COMMAND{{else}}{{.UseLine}}{{end}}
{{end}}{{if .HasAvailableSubCommands}}
Commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}
{{end}}{{if .HasHelpSubCommands}}
More to read, with {{.CommandPath}} help TOPIC:{{range .Commands}}{{if .IsAdditionalHelpTopicCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}
{{end}}{{if and .HasAvailableFlags (not .IsAdditionalHelpTopicCommand)}}
Flags:
{{.Flags.FlagUsages | trimTrailingWhitespaces}}
{{end}}
`

// newHelp is `leastmove help`.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help COMMAND or TOPIC",
		Short: "say how a command is used, or more of a topic",
		RunE: func(c *cobra.Command, args []string) error {
			asked, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return commandNamed(c.Root(), args)
			}
			asked.InitDefaultHelpFlag()
			return asked.Help()
		},
	}
}

// flagError puts the word on a wrong flag plainly, and adds the nearest flag
// to one that is unknown.
func flagError(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return fmt.Errorf("--%s can't be %q", value.GetFlag().Name, value.GetValue())
	}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) || unknown.GetSpecifiedShortnames() != "" {
		return err
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := nearest(unknown.GetSpecifiedName(), names); near != "" {
		return fmt.Errorf("%w\n  did you mean --%s?", err, near)
	}
	return err
}

// commandNamed is the word on what follows the program's name and is no
// command: the nearest command, or that a train file needs one before it.
func commandNamed(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() || sub.IsAdditionalHelpTopicCommand() {
			names = append(names, sub.Name())
		}
	}
	near := nearest(args[0], names)
	switch {
	case strings.HasSuffix(args[0], ".toml"):
		return fmt.Errorf("%q is not a command\n  did you mean leastmove plan %s?", args[0], args[0])
	case near != "":
		return fmt.Errorf("unknown command %q\n  did you mean %s?", args[0], near)
	}
	return fmt.Errorf("unknown command %q", args[0])
}

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

// nearest is the name that differs least from a word, by at most a third of
// its letters or two; "" where none is near.
func nearest(word string, names []string) string {
	if word == "" {
		return ""
	}
	best, least := "", max(2, len(word)/3)+1
	for _, name := range names {
		d := changes(strings.ToLower(word), name)
		if strings.HasPrefix(name, strings.ToLower(word)) {
			d = min(d, 1)
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}

// changes is the number of bytes to insert, drop or replace to get from one
// word to another (Levenshtein's distance).
func changes(from, to string) int {
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(from) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(to) {
			d := diagonal
			if from[i] != to[j] {
				d++
			}
			diagonal = row[j+1]
			row[j+1] = min(d, row[j]+1, diagonal+1)
		}
	}
	return row[len(to)]
}

// completeFile offers train files for the one argument of a command.
func completeFile(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}
