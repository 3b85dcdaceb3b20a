package cli

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// newReport is `leastmove report`.
func newReport(s streams) *cobra.Command {
	ask := &request{form: form{offers: []string{formatHTML}}}
	c := s.onTrain(&cobra.Command{
		Use:   "report FILE",
		Short: "write all that is known of a plan as one page with figures (HTML)",
		Long: `Plan the moves of the train and write one page of HTML that stands by itself:
the answer, the train before and after, moves, couplings, bolts and packs, what
limits the plan, strategies and trade-off, readings, growth, how sure it is, and
an appendix to check every number. It needs no network and no script, and prints
on A4 and Letter.`,
		Example: `  leastmove report train.toml -o report.html
  leastmove report train.toml --use 0.5 -o report.html
  leastmove report train.toml --relieve 1 -o report.html   with the first option`,
	}, ask, ask.look, reported)
	ask.place(c, " (default: the standard output)")
	filesOf(c, "output", "html")
	ask.planning.flags(c)
	return c
}

// reported is all that is known of a plan, as one page.
func reported(ctx context.Context, j *job) (answer, error) {
	all, err := study(ctx, j)
	if err != nil {
		return answer{}, err
	}
	return answer{
		write:  func(w io.Writer) error { return writeStudy(w, all, j) },
		ending: ended(all.Plan),
		open:   all.Plan.Status == view.Undecided,
	}, nil
}

// writeStudy writes a study as HTML, with its figures.
func writeStudy(w io.Writer, all *pages.Study, j *job) error {
	var trade *view.Trade
	if all.Comparison != nil {
		trade = all.Comparison.Trade
		trade.Mark(all.Plan)
	}
	if err := j.number(all.Plan); err != nil {
		return err
	}
	page, err := all.Doc(j.layout, fileOf(j.src), chart.FiguresOf(all.Plan.Figures(), trade))
	if err != nil {
		return err
	}
	return page.HTML(w)
}

// fileOf is what a page says of the train file.
func fileOf(src *source) pages.File {
	info, _ := debug.ReadBuildInfo()
	sum := fmt.Sprintf("%x", sha256.Sum256(src.text))
	return pages.File{Name: shown(src.name), Text: src.text, Sum: sum, Program: versionOf(info)}
}
