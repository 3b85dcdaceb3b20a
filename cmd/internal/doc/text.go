package doc

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Text writes the document as text for a width in columns.
func (d *Doc) Text(w io.Writer, width int) error {
	t := &texter{width: width}
	t.paragraph("", d.Title)
	t.facts(d.Facts)
	t.blanks(d.Blanks)
	t.blocks(d.Blocks)
	if len(d.Foot) > 0 {
		t.line("")
		t.paragraph("", strings.Join(d.Foot, ", "))
	}
	_, err := t.WriteTo(w)
	return err
}

// A texter lays a document out as text.
type texter struct {
	bytes.Buffer
	width int // columns
}

// step is by how many columns text is set in.
const step = 2

func in(steps int) string { return strings.Repeat(" ", step*steps) }

func (t *texter) blocks(blocks []Block) {
	blocks = joined(blocks)
	for n := 0; n < len(blocks); n++ {
		table, is := blocks[n].(*Table)
		if !is {
			t.block(blocks[n])
			continue
		}
		run := []*Table{table}
		for n+1 < len(blocks) && table.Form != "" {
			next, is := blocks[n+1].(*Table)
			if !is || next.Form != table.Form {
				break
			}
			run, n = append(run, next), n+1
		}
		t.tables(run)
	}
}

func (t *texter) block(b Block) {
	switch b := b.(type) {
	case *Section:
		t.heading(b.marked())
		t.blanks(b.Blanks)
		t.blocks(b.Blocks)
	case Subheading:
		t.paragraph("", b.Words)
	case Paragraph:
		t.paragraph(in(b.In), b.Words)
	case *List:
		t.list(b)
	case Facts:
		t.facts(b)
	case Blanks:
		t.blanks(b)
	case *Figure:
		t.paragraph("", "Figure: "+b.Title)
	case *Fold:
		t.heading(b.Heading)
		t.blocks(b.Blocks)
	case *Choice:
		for _, o := range b.Options {
			t.heading(b.Legend + ": " + o.Label)
			t.blocks(o.Blocks)
		}
	case *Hold:
		t.heading(b.Heading)
		t.blanks(b.Blanks)
		t.blocks(b.Blocks)
	case Lines:
		t.lines(b)
	case See:
		t.paragraph("", b.Before+" "+b.Words+".")
	case Appendix:
		t.line("")
		t.paragraph("", b.Words)
	case PageBreak, Space:
		t.line("")
	case Contents: // text is short, or is searched
	}
}

// heading is underlined, an empty line above it.
func (t *texter) heading(words string) {
	t.line("")
	if words == "" {
		return
	}
	t.paragraph("", words)
	t.line(strings.Repeat("-", min(t.width, columns(Bare(words)))))
}

// paragraph says words, every line but the first as far in as the first one's
// mark is wide.
func (t *texter) paragraph(mark, words string) {
	rest := strings.Repeat(" ", columns(mark))
	for _, line := range Wrap(Bare(words), t.width-columns(mark)) {
		t.line(mark + line)
		mark = rest
	}
}

func (t *texter) line(s string) {
	t.WriteString(strings.TrimRight(s, " "))
	t.WriteByte('\n')
}

func (t *texter) list(l *List) {
	for n, item := range l.Items {
		if l.Loose {
			t.line("")
		}
		mark := "- "
		switch l.Kind {
		case Numbers:
			mark = fmt.Sprintf("%d. ", n+1)
		case Checks, Short:
			mark = "[ ] "
		}
		for _, words := range item {
			t.paragraph(in(l.In)+mark, words)
			mark = strings.Repeat(" ", len(mark))
		}
	}
}

func (t *texter) facts(facts []Fact) {
	for _, f := range facts {
		t.paragraph("", f.Name+": "+f.Value)
	}
}

func (t *texter) blanks(labels []string) {
	if len(labels) > 0 {
		t.paragraph("", strings.Join(mapped(labels, roomier), " "))
	}
}

func (t *texter) lines(b Lines) {
	for n, line := range b.Lines {
		if b.Numbered {
			line = fmt.Sprintf("%*d %s", len(fmt.Sprint(len(b.Lines))), n+1, line)
		}
		if !b.Flush {
			line = in(1) + line
		}
		t.line(line)
	}
}
