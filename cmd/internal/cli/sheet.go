package cli

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/report"
	"leastmove/cmd/internal/sheet"
	"leastmove/optimize"
)

// The formats of a sheet, besides HTML.
const (
	formatMarkdown = "md"
	formatPDF      = "pdf"
)

// newSheet is `leastmove sheet`.
func newSheet(s streams) *cobra.Command {
	f, ask, paper := &form{offers: []string{formatPDF, formatHTML, formatMarkdown}}, &planning{}, ""
	c := &cobra.Command{
		Use:   "sheet FILE",
		Short: "write the crew's work order, to print",
		Long: `Plan the train and write the work order for the crew: what to look at first, the
moves in stages, what the dials show after each, and room to write what they do
show.`,
		Example: `  leastmove sheet train.toml -o sheet.pdf
  leastmove sheet train.toml -o sheet.pdf --paper letter
  leastmove sheet train.toml -o sheet.html
  leastmove sheet train.toml                           Markdown, to the screen`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.inferred(c.Flags().Changed("format")); err != nil {
				return err
			}
			if !slices.Contains(sheet.Papers(), paper) {
				return fmt.Errorf("--paper is %q: there are %s", paper, listed(sheet.Papers(), "and"))
			}
			if f.format == formatPDF && (f.output == "" || f.output == "-") && isTerminal(s.out) {
				return errors.New("a PDF is nothing for a screen: name a file with -o, or send it on")
			}
			if err := ask.look(c.Flags()); err != nil {
				return err
			}
			return s.sheet(args[0], f, ask, sheet.Paper(paper))
		},
	}
	f.flags(c)
	format := c.Flags().Lookup("format")
	format.DefValue, format.Usage = "", "`form` of the sheet: pdf, html or md (default: by the file's\nending; md without a file)"
	ask.flags(c)
	c.Flags().StringVar(&paper, "paper", string(sheet.A4), "`size` of the paper: "+listed(sheet.Papers(), "or"))
	if err := c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(sheet.Papers(), cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was made just above
	}
	return c
}

// inferred takes the format from the ending of the file, where none is given.
func (f *form) inferred(given bool) error {
	switch {
	case given:
		return nil
	case f.output == "" || f.output == "-":
		f.format = formatMarkdown
		return nil
	}
	f.format = strings.TrimPrefix(strings.ToLower(filepath.Ext(f.output)), ".")
	switch f.format {
	case "htm":
		f.format = formatHTML
	case "markdown":
		f.format = formatMarkdown
	}
	if !slices.Contains(f.offers, f.format) {
		return fmt.Errorf("-o: %s does not end in .pdf, .html or .md: say with --format what it is to be", f.output)
	}
	return nil
}

func (s streams) sheet(name string, f *form, ask *planning, paper sheet.Paper) error {
	src, out, err := ask.begin(s, name, f)
	if err != nil {
		return err
	}
	ctx, stop := interruptible()
	defer stop()
	layout := out.page(s, src)
	plan, err := s.make(ctx, src, &layout, ask)
	if err != nil {
		return err
	}
	switch a := plan.ChanceConstraint; {
	case plan.Moves == nil:
		return noSheet(plan)
	case a != nil && !a.Reached:
		return &ending{ended(plan).(*ending).code, fmt.Errorf("no sheet: no plan with a chance of %g was found. plan --assure %g says how near one comes", ask.assure, ask.assure)}
	}
	if name == "-" {
		name = "standard input"
	}
	made, err := report.Sheet(plan, layout, shown(name))
	if err != nil {
		return &ending{exitFault, err}
	}
	var result bytes.Buffer
	switch f.format {
	case formatPDF:
		err = made.PDF(&result, paper)
	case formatHTML:
		err = made.HTML(&result, paper)
	default:
		err = made.Markdown(&result)
	}
	if err != nil {
		return &ending{exitFault, fmt.Errorf("the sheet could not be written: %w", err)}
	}
	return out.finish(ctx, s, result.Bytes())
}

// noSheet says why there is nothing for a crew to do, and how to go on.
func noSheet(p *optimize.Plan) error {
	err := ended(p)
	var e *ending
	if errors.As(err, &e) && e.err == nil {
		e.err = errors.New("no sheet: " + report.Unplanned(p))
	}
	return err
}
