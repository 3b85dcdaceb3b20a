package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// A form is the form that a result is asked for in, and its place.
type form struct {
	format string
	output string
	strict bool
	bands  string
	offers []string // the formats; nil: text and JSON
}

// The formats.
const (
	formatText = "text"
	formatJSON = "json"
	formatCSV  = "csv"
	formatHTML = "html"
)

func (f *form) formats() []string {
	if f.offers != nil {
		return f.offers
	}
	return []string{formatText, formatJSON}
}

func (f *form) flags(c *cobra.Command) {
	c.Flags().StringVar(&f.format, "format", formatText, "`form` of the result: "+listed(f.formats(), "or"))
	f.place(c, "\n(default: the standard output)")
	err := c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(f.formats(), cobra.ShellCompDirectiveNoFileComp))
	if err != nil {
		panic(err) // the flag was made two lines up
	}
}

// place adds the flags of a result that has one form only.
func (f *form) place(c *cobra.Command, otherwise string) {
	if f.format == "" {
		f.format = f.formats()[0]
	}
	c.Flags().StringVarP(&f.output, "output", "o", "", "`file` that the result goes to, written whole or not at all"+otherwise)
	c.Flags().BoolVar(&f.strict, "strict", false, "end with code 2 and no result where a check of readings fails")
	c.Flags().StringVar(&f.bands, "bands", "", "`file` of limits by speed ([[band]]), for trains that have none of their own")
}

// listed are names in a sentence: "a, b or c".
func listed(names []string, last string) string {
	n := len(names) - 1
	return strings.Join(names[:n], ", ") + " " + last + " " + names[n]
}

// known says whether the form is one of ours.
func (f *form) known() error {
	for _, name := range f.formats() {
		if f.format == name {
			return nil
		}
	}
	err := fmt.Errorf("--format is %q: there are %s", f.format, listed(f.formats(), "and"))
	if near := nearest(f.format, f.formats()); near != "" {
		err = fmt.Errorf("%w\n  did you mean %s?", err, near)
	}
	return err
}

// begin reads the train file and finds the place for the result, so that all
// that is wrong with either is said before any work.
func (s streams) begin(name string, f *form) (*source, output, error) {
	if err := f.known(); err != nil {
		return nil, output{}, err
	}
	onScreen := !f.strict && f.format == formatText && (f.output == "" || f.output == "-") && isTerminal(s.out) && isTerminal(s.err)
	src, err := s.read(name, f.bands, onScreen)
	if err != nil {
		return nil, output{}, err
	}
	if n := src.failedChecks(); f.strict && n > 0 {
		return nil, output{}, &ending{exitInput, fmt.Errorf("--strict: %d of the checks of readings failed, see the warnings above", n)}
	}
	out, err := src.output("-o", f.output)
	return src, out, err
}
