// Package pages writes a plan, or a train as it was found, for those who
// read it: as a page of text for the crew and as JSON for programs. Every
// format is written from the same view.Plan.
//
// Numbers are in the units of the train file, rounded as the crew sets them:
// moves to whole steps of shims and dials, what is proven (a bound) rounded
// down, the share of a limit that is taken up rounded up. Text says words in
// place of signs: raise and remove, high and low, left and right. The same
// plan always gives the same bytes.
package pages

import "leastmove/train/trainfile"

// Page says how a report is laid out and what else stands in it.
type Page struct {
	Full    bool             // of a plan as text: all parts
	Show    []string         // of a plan as text: these parts, by name; nil: the short page
	Width   int              // columns of text, at least Narrowest; 0: 80
	Doubts  trainfile.Report // what was doubtful in the train file; nil: nothing
	Bands   string           // name of the file of bands, whose doubts are among them; "": none
	Line    func(Place) int  // where a key stands in the train file; nil: not known
	Held    []string         // machines held on the command line
	Freed   []string         // machines freed on the command line
	Widened bool             // wider coupling limits were looked at as ways out
}

// A Place names a key of the train file: of a foot, a nozzle, a machine, a
// coupling, or of the whole train. Indices that do not apply are -1.
type Place struct {
	Machine, Foot, Nozzle, Coupling int
	Key                             string // as the file has it, with a dot for a nested one: "limit.angle"
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
