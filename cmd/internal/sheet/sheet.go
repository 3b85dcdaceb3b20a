// Package sheet writes a work order as PDF, HTML or Markdown: headings,
// sentences, lists to tick off, and tables with room to write in. It knows
// nothing of trains; package report says what stands in it. The same sheet
// always gives the same bytes.
package sheet

import "unicode/utf8"

// A Sheet is a work order.
type Sheet struct {
	Title  string // of the train
	Source string // the file it was made from
	Plan   string // what tells one plan from another
	Blocks []Block
}

// A Block is kept on one page where it fits on one.
type Block struct {
	Heading string
	Large   bool     // the heading of the whole sheet
	Fields  []string // what is to be written in by hand: names, times
	Text    []string // paragraphs
	Ticks   []string // what is to be ticked off, each on lines of its own
	Boxes   []string // short things to tick off, as many side by side as fit
	Tables  []Table
}

// A Table has as many cells in every row as in its head.
type Table struct {
	Form string // tables of one form have columns of one width
	Head []string
	Bare bool // what stands in it needs no head; Markdown has one all the same
	Rows [][]Cell
}

// A Cell is a text, or room to write.
type Cell struct {
	Text  string
	Bold  bool
	Write []string // labels of the boxes to write in, "" for none; nil: no box
}

// Joined are the block's tables, those of one form that follow each other made
// one.
func (b Block) Joined() []Table {
	var out []Table
	for _, t := range b.Tables {
		if n := len(out); n > 0 && out[n-1].Form == t.Form {
			out[n-1].Rows = append(out[n-1].Rows[:len(out[n-1].Rows):len(out[n-1].Rows)], t.Rows...)
			continue
		}
		out = append(out, t)
	}
	return out
}

// Short says whether the text is short enough never to be wrapped.
func (c Cell) Short() bool { return utf8.RuneCountInString(c.Text) <= 32 }
