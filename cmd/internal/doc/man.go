package doc

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// A ManHead is what a man page says of itself.
type ManHead struct {
	Name   string // of the page, in lower case
	About  string // in a few words
	Date   string
	Source string // program and version
	Manual string // whose pages these are
}

// Man writes the document as a man page (roff with the macros man).
func (d *Doc) Man(w io.Writer, head ManHead) error {
	m := &manual{}
	m.line(`.TH "%s" "1" "%s" "%s" "%s"`, strings.ToUpper(head.Name), head.Date, roff(head.Source), roff(head.Manual))
	m.line(".SH NAME")
	m.line(`%s \- %s`, roff(head.Name), roff(head.About))
	if blocks := trimmed(d.Blocks); len(blocks) > 0 {
		if _, is := blocks[0].(*Section); !is {
			m.line(".SH DESCRIPTION")
		}
		m.blocks(blocks)
	}
	_, err := w.Write(m.Bytes())
	return err
}

// ManSections writes the document's sections, to stand at the end of a man page. What comes
// before the first of them stands under the document's title.
func (d *Doc) ManSections(w io.Writer) error {
	m := &manual{}
	m.line(".SH %s", heading(d.Title))
	m.blocks(trimmed(d.Blocks))
	_, err := w.Write(m.Bytes())
	return err
}

// manual lays a document out as a man page.
type manual struct{ bytes.Buffer }

func (m *manual) line(format string, args ...any) { fmt.Fprintf(m, format+"\n", args...) }

// trimmed are blocks without the empty lines of text.
func trimmed(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		if _, is := b.(Space); !is {
			out = append(out, b)
		}
	}
	return out
}

func (m *manual) blocks(blocks []Block) {
	first := true // a paragraph follows its heading without a macro
	for _, b := range trimmed(blocks) {
		switch b := b.(type) {
		case *Section:
			m.line(".SH %s", heading(b.marked()))
			m.blocks(b.Blocks)
			continue
		case Subheading:
			m.line(".SS %s", heading(b.Words))
			first = true
			continue
		case Paragraph:
			m.paragraph(first)
			m.line("%s", roff(b.Words))
		case *List:
			m.list(b)
		case *Table:
			m.paragraph(first)
			t := &texter{width: manWidth}
			t.tables([]*Table{b})
			m.shown(strings.Split(strings.TrimSuffix(t.String(), "\n"), "\n"))
		case Lines:
			m.paragraph(first)
			m.shown(b.Lines)
		}
		first = false
	}
}

// manWidth is how wide tables are, so that with the indent of a man page they fit in 80 columns.
const manWidth = 72

func (m *manual) paragraph(first bool) {
	if !first {
		m.line(".PP")
	}
}

func (m *manual) list(l *List) {
	for n, item := range l.Items {
		mark := `\(bu`
		if l.Kind == Numbers {
			mark = fmt.Sprintf("%d.", n+1)
		}
		m.line(".IP %s 4", mark)
		for _, words := range item {
			m.line("%s", roff(words))
		}
	}
}

// shown are lines as they are.
func (m *manual) shown(lines []string) {
	m.line(".nf")
	for _, line := range lines {
		if line == "" {
			line = `\&`
		}
		m.line("%s", roff(strings.TrimRight(line, " ")))
	}
	m.line(".fi")
}

// heading is one in a macro's line.
func heading(words string) string {
	return `"` + strings.ReplaceAll(roff(strings.ToUpper(words)), `"`, `\(dq`) + `"`
}

// roff is a text with what means something to roff escaped.
func roff(words string) string {
	if words == `\&` {
		return words
	}
	escapes := strings.NewReplacer(`\`, `\e`, "-", `\-`, "`", `\(ga`, "'", `\(aq`, "^", `\(ha`, "~", `\(ti`)
	words = escapes.Replace(Bare(words))
	if strings.HasPrefix(words, ".") {
		words = `\&` + words
	}
	return words
}
