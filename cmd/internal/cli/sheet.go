package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// newSheet is `leastmove sheet`.
func newSheet(s streams) *cobra.Command {
	ask, paper, released := &request{form: form{offers: []string{formatPDF, formatHTML, formatMarkdown}}}, "", false
	look := func(flags *pflag.FlagSet) error {
		if err := ask.inferred(flags.Changed("format")); err != nil {
			return err
		}
		if !slices.Contains(doc.Papers(), paper) {
			return fmt.Errorf("--paper is %q: there are %s", paper, words.And(doc.Papers()))
		}
		if ask.format == formatPDF && (ask.output == "" || ask.output == "-") && isTerminal(s.out) {
			return errors.New("a PDF is nothing for a screen: name a file with -o, or send it on")
		}
		return ask.look(flags)
	}
	c := s.onTrain(&cobra.Command{
		Use:   "sheet FILE",
		Short: "write the crew's work order, to print",
		Long: `Plan the train and write the work order for the crew: what to look at first, the
moves in stages, what the dials show after each, and room to write what they do
show. A plan whose verdict is marginal or not advised is held: its sheet ends at
a hold box until the engineer has decided (--released).`,
		Example: `  leastmove sheet train.toml -o sheet.pdf
  leastmove sheet train.toml -o sheet.pdf --paper letter
  leastmove sheet train.toml -o sheet.html
  leastmove sheet train.toml                           Markdown, to the screen`,
	}, ask, look, func(ctx context.Context, j *job) (answer, error) {
		j.layout.Released = released
		return workOrder(ctx, j, doc.Paper(paper))
	})
	ask.form.flags(c)
	format := c.Flags().Lookup("format")
	format.DefValue, format.Usage = "",
		"`form` of the sheet: pdf, html or md (default: by the file's ending; md without a file)"
	ask.planning.flags(c)
	c.Flags().StringVar(&paper, "paper", string(doc.A4), "`size` of the paper: "+words.Or(doc.Papers()))
	c.Flags().BoolVar(&released, "released", false, pages.Releasing)
	offered(c, "paper", doc.Papers())
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
	f.format = suffix(f.output)
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

// workOrder plans a train and writes what the crew does.
func workOrder(ctx context.Context, j *job, paper doc.Paper) (answer, error) {
	plan, err := j.make(ctx)
	if err != nil {
		return answer{}, err
	}
	switch a := plan.ChanceConstraint; {
	case plan.Moves == nil:
		return answer{}, noSheet(plan)
	case a != nil && !a.Reached:
		return answer{}, &ending{codeOf(plan), fmt.Errorf("no sheet: no plan with a chance of %g was found. "+
			"plan --assure %g says how near one comes", j.assure, j.assure)}
	}
	if err := j.number(plan); err != nil {
		return answer{}, err
	}
	above, err := chart.FeetFromAbove(plan.Figures())
	if err != nil {
		return answer{}, err
	}
	made := pages.Sheet(plan, j.layout, shown(j.src.name), above)
	return answer{write: func(w io.Writer) (err error) {
		switch j.format {
		case formatPDF:
			err = made.PDF(w, paper)
		case formatHTML:
			err = made.Sheet(w, paper)
		default:
			err = made.Markdown(w)
		}
		if err != nil {
			return fmt.Errorf("the sheet could not be written: %w", err)
		}
		return nil
	}}, nil
}

// noSheet says why there is nothing for a crew to do, and how to go on.
func noSheet(p *view.Plan) error {
	err := ended(p)
	var e *ending
	if errors.As(err, &e) && e.err == nil {
		e.err = errors.New("no sheet: " + pages.Unplanned(p))
	}
	return err
}
