package doc

import (
	"strings"
	"unicode/utf8"
)

// A Table has as many cells in every row as it has columns. Tables of one form that
// follow each other have columns of one width. Those without captions of their own
// are one table; in text those with captions stand in one grid, an empty line between
// them, each caption in the first cell of its head.
type Table struct {
	Caption string
	Implied bool // the caption is the heading above, not to be shown again
	Same    bool // the caption is that of the table before: text does not repeat it
	In      int  // steps that the caption is set in by in text
	Form    string
	Columns []Column
	Rows    [][]Cell
	Names   int  // columns that say what a row speaks of; 0: the first
	Grouped bool // rows alike in the first column are a group; text says it once above them
	Joins   bool // paper keeps it with the table above
	Bare    bool // text and paper have no head: what stands in the table needs none
	Broad   bool // on paper it takes all of a sheet's width, beside no other column
	Screen  bool // it is on the screen alone
	// Paired sets two rows side by side on paper where they fit there: of their first cells the first line stays beside
	// the row, the rest stands above both.
	Paired bool
	// Joint joins the lines of a cell where a format puts them on one line; "": a colon.
	Joint string
}

// A Column is one column of a table.
type Column struct {
	Head   string
	Brief  string // the head in text, where room is short; "": the same
	Wraps  bool   // in text its cells may go over several lines
	Number bool   // flush right
}

// Wide is a column of words that may go over several lines in text.
func Wide(head string) Column { return Column{Head: head, Wraps: true} }

// Wides are such columns.
func Wides(heads ...string) []Column {
	out := make([]Column, len(heads))
	for i, head := range heads {
		out[i] = Wide(head)
	}
	return out
}

// Fixed is a column that is never broken.
func Fixed(head string) Column { return Column{Head: head} }

// Number is a column of numbers.
func Number(head string) Column { return Column{Head: head, Number: true} }

// A Cell is a text, of one line or more, or room to write.
type Cell struct {
	Text  string
	Bold  bool
	Write []string // labels of the boxes to write in, "" for none; nil: no box. A PDF has them over the boxes
}

// Add adds a row of texts.
func (t *Table) Add(texts ...string) {
	row := make([]Cell, len(texts))
	for i, s := range texts {
		row[i].Text = s
	}
	t.Rows = append(t.Rows, row)
}

// Drop takes a column out.
func (t *Table) Drop(column int) {
	t.Columns = append(t.Columns[:column:column], t.Columns[column+1:]...)
	for i, row := range t.Rows {
		t.Rows[i] = append(row[:column:column], row[column+1:]...)
	}
}

func (t *Table) names() int { return max(1, t.Names) }

func (t *Table) heads(of func(string) string) []string {
	out := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = of(c.Head)
	}
	return out
}

// line is a cell's text on one line.
func (t *Table) line(c Cell) string {
	if !strings.Contains(c.Text, "\n") {
		return c.Text
	}
	joint := t.Joint
	if joint == "" {
		joint = ": "
	}
	var some []string
	for _, s := range strings.Split(c.Text, "\n") {
		if s != "" {
			some = append(some, s)
		}
	}
	return strings.Join(some, joint)
}

// short says whether a text is short enough never to be wrapped.
func short(s string) bool { return utf8.RuneCountInString(s) <= 32 }

// joined are blocks, tables of one form that follow each other without captions
// made one.
func joined(blocks []Block) []Block {
	var out []Block
	var last *Table
	for _, b := range blocks {
		t, is := b.(*Table)
		if is && last != nil && t.Form != "" && t.Form == last.Form && t.Caption == "" && last.Caption == "" {
			both := *last
			both.Rows = append(both.Rows[:len(both.Rows):len(both.Rows)], t.Rows...)
			last = &both
			out[len(out)-1] = last
			continue
		}
		if last = nil; is {
			last = t
		}
		out = append(out, b)
	}
	return out
}
