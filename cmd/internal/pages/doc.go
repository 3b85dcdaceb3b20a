// Package pages writes a plan, or a train as it was found, for those who
// read it: as documents of package doc. Package planjson writes the same views
// for programs.
//
// Numbers are in the units of the train file, rounded as the crew sets them:
// moves to whole steps of shims and dials, what is proven (a bound) rounded
// down, the share of a limit that is used rounded up. Text says words in
// place of signs: raise and remove, high and low, left and right. The same
// plan always gives the same bytes.
package pages

import "leastmove/cmd/internal/view"

// Page says how a report is laid out and what else stands in it.
type Page struct {
	view.Input
	Full    bool     // of a plan as text: all parts
	Show    []string // of a plan as text: these parts, by name; nil: the short page
	Number  string   // that tells one plan from another
	Width   int      // columns of text, at least Narrowest; 0: 80
	Widened bool     // wider coupling limits were looked at as options

	// Released is set where the engineer has decided to carry out a plan that its verdict holds: the sheet
	// then has its stages.
	Released bool
}

// Narrowest is the width that the tables of a page need.
const Narrowest = 80

// usualWidth is that of a terminal and of a sheet of paper in a plain font.
const usualWidth = 80

func (p Page) width() int {
	if p.Width > 0 {
		return p.Width
	}
	return usualWidth
}
