package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/manual"
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
{{.Flags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}
`

// newHelp is `leastmove help`.
func newHelp(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "help COMMAND or TOPIC",
		Short: "say how a command is used, or more of a topic",
		RunE: func(c *cobra.Command, args []string) error {
			asked, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return s.lookUp(c.Root(), args)
			}
			asked.InitDefaultHelpFlag()
			if err := asked.Help(); err != nil || !asked.IsAvailableCommand() || manual.Page(asked.Name()) == nil {
				return err
			}
			fmt.Fprintln(s.out)
			return manual.Page(asked.Name()).Text(s.out, helpWidth)
		},
	}
}

// lookUp shows the part of the manual that a word of the trade leads to, or says which parts
// speak of it.
func (s streams) lookUp(root *cobra.Command, args []string) error {
	words := strings.Join(args, " ")
	if rest, is := strings.CutPrefix(words, keysTopic+" "); is {
		return s.topic(keysTopic, []string{rest})
	}
	if part := keysNamed(words); part != nil && strings.ContainsAny(words, "._[") {
		return part.Text(s.out, helpWidth)
	}
	if page, heading, ok := manual.Find(words); ok {
		if part := manual.Part(page, heading); part != nil {
			return part.Text(s.out, helpWidth)
		}
		return s.topic(page, nil)
	}
	if part := keysNamed(words); part != nil {
		return part.Text(s.out, helpWidth)
	}
	unknown := commandNamed(root, args)
	near := nearest(strings.ToLower(words), manual.Words())
	if near != "" && !strings.Contains(unknown.Error(), "did you mean") {
		return fmt.Errorf("%w\n  did you mean leastmove help %s?", unknown, near)
	}
	if found := manual.Mentions(words); len(found) > 0 {
		fmt.Fprintf(s.out, "There is no topic %q. It is spoken of in\n", words)
		for _, place := range found {
			fmt.Fprintf(s.out, "  leastmove %s\n", place)
		}
		return nil
	}
	return unknown
}

// flagError puts the word on a wrong flag plainly, and adds the nearest flag
// to one that is unknown.
func flagError(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return fmt.Errorf("--%s can't be %q", value.GetFlag().Name, value.GetValue())
	}
	var missing *pflag.NotExistError
	if !errors.As(err, &missing) || missing.GetSpecifiedShortnames() != "" {
		return err
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := nearest(missing.GetSpecifiedName(), names); near != "" {
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
