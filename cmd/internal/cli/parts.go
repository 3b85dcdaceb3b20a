package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/words"
)

// pageParts are how much of a plan's page is printed as text.
type pageParts struct {
	full  bool
	names []string // by name; nil: the short page, or all of it
}

func (p *pageParts) flags(c *cobra.Command) {
	const beside = 33 // columns that the page of help leaves beside the names of parts
	names, about := pages.PlanParts()
	c.Flags().BoolVar(&p.full, "full", false, "print all parts of the page, not the short one")
	usage := "print these `parts` alone, with commas between them; --format csv has one table, " +
		words.Or(pages.CSVParts()) + " (default " + pages.CSVParts()[0] + "):"
	for i, name := range names {
		usage += fmt.Sprintf("\n  %-9s  %s", name, strings.Join(doc.Wrap(about[i], beside), "\n             "))
	}
	c.Flags().StringSliceVar(&p.names, "show", nil, usage)
	offered(c, "show", names)
}

// look is the word on flags that can't be.
func (p *pageParts) look(flags *pflag.FlagSet, ask *request) error {
	if !flags.Changed("full") && !flags.Changed("show") {
		return nil
	}
	switch {
	case flags.Changed("full") && flags.Changed("show"):
		return errors.New("--full and --show: one prints all parts, the other some; give one of them")
	case ask.format == formatCSV && !flags.Changed("full"):
		if len(p.names) != 1 || !slices.Contains(pages.CSVParts(), p.names[0]) {
			return fmt.Errorf("--show: --format csv writes one table, %s", words.Or(pages.CSVParts()))
		}
		return nil
	case ask.format != formatText:
		return fmt.Errorf("--full and --show are of the page as text: --format %s has everything", ask.format)
	case ask.plan != "":
		return errors.New("--full and --show: the page of a plan that is there (--plan) has everything")
	}
	names, _ := pages.PlanParts()
	for _, part := range p.names {
		if !slices.Contains(names, part) {
			return noneOf("show", part, names, strings.Join(names, ", "))
		}
	}
	ask.unlisted = p.names != nil && !slices.Contains(p.names, "checks")
	return nil
}
