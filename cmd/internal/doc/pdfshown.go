package doc

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/glyphs"
)

// A cover replaces in blocks what the fonts lack.
type cover struct {
	*glyphs.Cover
	tables int // that were looked at
}

func (c *cover) shown(s string) string { return c.Shown(Bare(typeset(s))) }

// blocks is a copy of blocks with what the fonts lack replaced.
func (c *cover) blocks(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		switch b := b.(type) {
		case *Section:
			s := *b
			s.Heading, s.Mark = c.shown(b.Heading), c.shown(b.Mark)
			s.Blanks, s.Blocks = mapped(b.Blanks, c.shown), c.blocks(b.Blocks)
			out = append(out, &s)
		case Subheading:
			out = append(out, Subheading{c.shown(b.Words)})
		case Paragraph:
			b.Words = c.shown(b.Words)
			out = append(out, b)
		case *List:
			l := *b
			l.Items = nil
			for _, item := range b.Items {
				l.Items = append(l.Items, mapped(item, c.shown))
			}
			out = append(out, &l)
		case Facts:
			out = append(out, c.facts(b))
		case Blanks:
			out = append(out, Blanks(mapped(b, c.shown)))
		case *Table:
			out = append(out, c.table(b))
		case *Figure:
			f := *b
			f.Title = c.shown(b.Title)
			out = append(out, &f)
		case *Fold:
			out = append(out, c.blocks([]Block{&Section{Heading: b.Heading, Blocks: b.Blocks}})...)
		case *Hold:
			h := *b
			h.Heading, h.Blanks, h.Blocks = c.shown(b.Heading), mapped(b.Blanks, c.shown), c.blocks(b.Blocks)
			out = append(out, &h)
		case Lines:
			b.Lines = mapped(b.Lines, c.shown)
			out = append(out, b)
		case See:
			b.Before, b.Words = c.shown(b.Before), c.shown(b.Words)
			out = append(out, b)
		case Appendix:
			out = append(out, Appendix{c.shown(b.Words)})
		case PageBreak:
			out = append(out, b)
		case *Choice, Contents, Space: // not on paper
		}
	}
	return out
}

func (c *cover) facts(facts []Fact) Facts {
	var out Facts
	for _, f := range facts {
		f.Name, f.Value = c.shown(f.Name), c.shown(f.Value)
		out = append(out, f)
	}
	return out
}

func (c *cover) table(b *Table) *Table {
	t := *b
	t.Caption, t.Columns, t.Rows = c.shown(b.Caption), nil, nil
	if c.tables++; t.Form == "" { // it shares its columns with no other
		t.Form = fmt.Sprintf("table %d", c.tables)
	}
	for _, column := range b.Columns {
		column.Head = c.shown(column.Head)
		t.Columns = append(t.Columns, column)
	}
	for _, row := range b.Rows {
		cells := make([]Cell, len(row))
		for i, k := range row {
			if b.Paired && i == 0 { // it is broken up later
				k.Text = strings.Join(mapped(strings.Split(k.Text, "\n"), c.shown), "\n")
			} else {
				k.Text = c.shown(b.line(k))
			}
			if k.Write != nil {
				k.Write = mapped(k.Write, c.shown)
			}
			cells[i] = k
		}
		t.Rows = append(t.Rows, cells)
	}
	return &t
}
