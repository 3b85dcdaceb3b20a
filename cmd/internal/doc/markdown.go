package doc

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Markdown writes the document as Markdown with tables, one line a paragraph.
func (d *Doc) Markdown(w io.Writer) error {
	m := &markdown{}
	m.heading(1, d.Title)
	m.facts(d.Facts)
	m.blanks(d.Blanks)
	m.blocks(d.Blocks, 1)
	if len(d.Foot) > 0 {
		m.line("")
		m.line(strings.Join(mapped(d.Foot, plain), ", "))
	}
	_, err := w.Write(m.Bytes())
	return err
}

type markdown struct{ bytes.Buffer }

func (m *markdown) line(words string) { m.WriteString(words + "\n") }

// apart starts a paragraph, a list or a table.
func (m *markdown) apart(words string) {
	if m.Len() > 0 {
		m.line("")
	}
	m.line(words)
}

func (m *markdown) heading(level int, words string) {
	if words != "" {
		m.apart(strings.Repeat("#", level) + " " + plain(words))
	}
}

func (m *markdown) blanks(labels []string) {
	if len(labels) > 0 {
		m.apart(strings.Join(mapped(mapped(labels, plain), roomier), " "))
	}
}

func (m *markdown) facts(facts []Fact) {
	for n, f := range facts {
		words := "- " + plain(f.Name) + ": " + plain(f.Value)
		if n == 0 {
			m.apart(words)
		} else {
			m.line(words)
		}
	}
}

// blocks are those under a heading of some level.
func (m *markdown) blocks(blocks []Block, level int) {
	for _, b := range joined(blocks) {
		switch b := b.(type) {
		case *Section:
			m.heading(level+1, b.marked())
			m.blanks(b.Blanks)
			m.blocks(b.Blocks, level+1)
		case Subheading:
			m.heading(level+1, b.Words)
		case Paragraph:
			m.apart(plain(b.Words))
		case *List:
			m.list(b)
		case Facts:
			m.facts(b)
		case Blanks:
			m.blanks(b)
		case *Table:
			m.table(b)
		case *Figure:
			m.apart("Figure: " + plain(b.Title))
		case *Fold:
			m.heading(level+1, b.Heading)
			m.blocks(b.Blocks, level+1)
		case *Choice:
			for _, o := range b.Options {
				m.heading(level+1, b.Legend+": "+o.Label)
				m.blocks(o.Blocks, level+1)
			}
		case *Hold:
			m.heading(level+1, b.Heading)
			m.blanks(b.Blanks)
			m.blocks(b.Blocks, level+1)
		case Lines:
			m.apart("```\n" + strings.Join(b.Lines, "\n") + "\n```")
		case See:
			m.apart(plain(b.Before + " " + b.Words + "."))
		case Appendix:
			m.apart("**" + plain(b.Words) + "**")
		case Contents, PageBreak, Space:
		}
	}
}

func (m *markdown) list(l *List) {
	for n, item := range l.Items {
		mark := "- "
		switch l.Kind {
		case Numbers:
			mark = fmt.Sprintf("%d. ", n+1)
		case Checks, Short:
			mark = "- [ ] "
		}
		for k, words := range item {
			switch {
			case n == 0 && k == 0:
				m.apart(mark + plain(words))
			case k == 0:
				m.line(mark + plain(words))
			default:
				m.apart(strings.Repeat(" ", len(mark)) + plain(words))
			}
		}
	}
}

func (m *markdown) table(t *Table) {
	if t.Caption != "" && !t.Implied {
		m.apart(plain(t.Caption))
	}
	m.apart("| " + strings.Join(t.heads(plain), " | ") + " |")
	for _, c := range t.Columns {
		if c.Number {
			m.WriteString("|---:")
		} else {
			m.WriteString("|---")
		}
	}
	m.line("|")
	for _, row := range t.Rows {
		cells := make([]string, len(row))
		for n, c := range row {
			c.Text = t.line(c)
			if cells[n] = c.written(plain); c.Bold && c.Text != "" {
				cells[n] = "**" + cells[n] + "**"
			}
		}
		m.line("| " + strings.Join(cells, " | ") + " |")
	}
}

// plain is text that Markdown takes as it is, on one line.
func plain(s string) string { return marks.Replace(s) }

// marks are those that mean something within a line.
var marks = strings.NewReplacer("\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "[", "\\[", "]", "\\]", "|", "\\|",
	"~", "\\~", "<", "&lt;", "&", "&amp;", "\n", " ", "\r", " ", Isolate, "", Resume, "")
