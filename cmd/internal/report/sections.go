package report

import (
	"slices"
	"strings"
)

// A Section is what is said under one heading, for formats other than text.
type Section struct {
	Heading string
	Blocks  []Block
}

// A Block is a paragraph, a heading of a lower kind, a list or a table; the others
// are empty.
type Block struct {
	Words   string
	Heading string
	List    *List
	Table   *Table
}

// A List has items of one paragraph or more.
type List struct {
	Ordered bool
	Items   [][]string
}

// A Table is rows under a header; its first columns, Names of them, say what a row
// speaks of.
type Table struct {
	Caption string
	Implied bool // the caption is the heading above, not to be shown again
	Header  []string
	Rows    [][]string
	Names   int
	Right   []bool // by column: numbers, flush right; nil: none
}

// sectioned is what a page said, as a section; nil where it said nothing.
func sectioned(said []block) *Section {
	if len(said) == 0 {
		return nil
	}
	s, caption := &Section{}, ""
	for n := range said {
		b := &said[n]
		switch b.kind {
		case saidHeading:
			s.Heading = b.words
		case saidParagraph:
			s.Blocks = append(s.Blocks, Block{Words: b.words})
		case saidItem:
			s.item(b)
		case saidCaption:
			caption = b.words
			if !captions(said[n+1:]) {
				s.Blocks = append(s.Blocks, Block{Heading: b.words})
				caption = ""
			}
		case saidGrid:
			for _, table := range b.grid.tables(caption) {
				if table.Caption == "" {
					table.Caption, table.Implied = s.Heading, true
				}
				s.Blocks = append(s.Blocks, Block{Table: &table})
			}
		}
	}
	return s
}

// captions says whether what follows a caption is the one table that it names.
func captions(rest []block) bool {
	return len(rest) > 0 && rest[0].kind == saidGrid && len(rest[0].grid.split()) == 1
}

// item adds to the list that the section ends with, or starts one. What is set in
// by blanks goes on with the item before it.
func (s *Section) item(b *block) {
	mark := strings.TrimSpace(b.indent)
	var list *List
	if n := len(s.Blocks); n > 0 {
		list = s.Blocks[n-1].List
	}
	if list == nil {
		list = &List{Ordered: strings.HasSuffix(mark, ".")}
		s.Blocks = append(s.Blocks, Block{List: list})
	}
	if n := len(list.Items); mark == "" && n > 0 {
		list.Items[n-1] = append(list.Items[n-1], b.words)
		return
	}
	list.Items = append(list.Items, []string{b.words})
}

// split is a grid's rows, table by table: an empty row stands between them.
func (g *grid) split() [][][]string {
	var out [][][]string
	from := 0
	for n, row := range g.rows {
		if strings.Join(row, "") == "" {
			out, from = append(out, g.rows[from:n]), n+1
		}
	}
	return append(out, g.rows[from:])
}

// tables are those of a grid. Of several, each is called by its own first cell.
func (g *grid) tables(caption string) []Table {
	parts := g.split()
	var out []Table
	for _, rows := range parts {
		t := Table{Caption: caption, Header: slices.Clone(rows[0]), Names: max(1, g.names), Right: g.right}
		if len(parts) > 1 {
			t.Caption, t.Header[0] = rows[0][0], ""
		}
		group := ""
		if g.header != nil {
			t.Header, t.Names = g.header, t.Names+1
		}
		for _, row := range rows[1:] {
			if g.header != nil {
				if strings.Join(row[1:], "") == "" {
					group = row[0]
					continue
				}
				row = slices.Concat([]string{group, strings.TrimPrefix(row[0], "- ")}, row[1:])
			}
			// A row without a name goes on with the one before it.
			if last := len(t.Rows) - 1; last >= 0 && row[0] == "" {
				t.Rows[last] = g.joined(t.Rows[last], row)
				continue
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
	}
	return out
}

// joined is a row and one that goes on with it.
func (g *grid) joined(a, b []string) []string {
	joint := g.joint
	if joint == "" {
		joint = ": "
	}
	out := make([]string, len(a))
	for i := range a {
		out[i] = strings.TrimSpace(a[i] + " " + b[i])
		if a[i] != "" && b[i] != "" {
			out[i] = a[i] + joint + b[i]
		}
	}
	return out
}
