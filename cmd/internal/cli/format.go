package cli

import (
	"slices"

	"leastmove/cmd/internal/words"

	"github.com/spf13/cobra"
)

// A form is the form that a result is asked for in, and its place.
type form struct {
	format string
	output string
	strict bool
	bands  string
	offers []string // the formats; nil: text and JSON
	// unlisted: what was asked for is a part of the page that does not list warnings
	unlisted bool
}

// The formats.
const (
	formatText     = "text"
	formatJSON     = "json"
	formatCSV      = "csv"
	formatHTML     = "html"
	formatMarkdown = "md"
	formatPDF      = "pdf"
)

func (f *form) formats() []string {
	if f.offers != nil {
		return f.offers
	}
	return []string{formatText, formatJSON}
}

func (f *form) flags(c *cobra.Command) {
	c.Flags().StringVar(&f.format, "format", formatText, "`form` of the result: "+words.Or(f.formats())+
		" (else by the ending of the file, where that is one)")
	f.place(c, " (default: the standard output)")
	offered(c, "format", f.formats())
}

// place adds the flags of a result that has one form only.
func (f *form) place(c *cobra.Command, otherwise string) {
	if f.format == "" {
		f.format = f.formats()[0]
	}
	c.Flags().StringVarP(&f.output, "output", "o", "",
		"`file` that the result goes to, written whole or not at all"+otherwise)
	c.Flags().BoolVar(&f.strict, "strict", false, "end with code 2 and no result where a check of readings fails")
	c.Flags().StringVar(&f.bands, "bands", "",
		"`file` of limits by speed ([[band]]), for trains that have none of their own")
	filesOf(c, "bands", "toml")
}

// byEnding takes the format from the ending of the file that the result goes to, where it is one of those offered.
func (f *form) byEnding() {
	if end := suffix(f.output); slices.Contains(f.formats(), end) {
		f.format = end
	}
}

// known is the word on a format that is none of ours.
func (f *form) known() error {
	if slices.Contains(f.formats(), f.format) {
		return nil
	}
	return noneOf("format", f.format, f.formats(), words.And(f.formats()))
}

// lists says whether the result is a page on the standard output that lists warnings itself.
func (f *form) lists() bool {
	return !f.strict && !f.unlisted && f.format == formatText && (f.output == "" || f.output == "-")
}
