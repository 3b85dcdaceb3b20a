package sheet

import (
	"bytes"
	"io"
	"slices"
	"strings"
)

// Markdown writes the sheet as Markdown with tables, one line a paragraph.
func (s *Sheet) Markdown(w io.Writer) error {
	var b bytes.Buffer
	line := func(words string) { b.WriteString(words + "\n") }
	// apart starts a paragraph, a list or a table.
	apart := func() {
		if b.Len() > 0 {
			line("")
		}
	}
	for _, k := range s.Blocks {
		if k.Heading != "" {
			apart()
			level := "## "
			if k.Large {
				level = "# "
			}
			line(level + plain(k.Heading))
		}
		if len(k.Fields) > 0 {
			apart()
			var fields []string
			for _, f := range k.Fields {
				fields = append(fields, plain(f)+" "+blank+blank)
			}
			line(strings.Join(fields, " "))
		}
		for _, t := range k.Text {
			apart()
			line(plain(t))
		}
		ticks := slices.Concat(k.Ticks, k.Boxes)
		if len(ticks) > 0 {
			apart()
		}
		for _, t := range ticks {
			line("- [ ] " + plain(t))
		}
		for _, t := range k.Joined() {
			apart()
			line("| " + strings.Join(mapped(t.Head, plain), " | ") + " |")
			line("|" + strings.Repeat("---|", len(t.Head)))
			for _, row := range t.Rows {
				cells := make([]string, len(row))
				for n, c := range row {
					cells[n] = c.markdown()
				}
				line("| " + strings.Join(cells, " | ") + " |")
			}
		}
	}
	line("")
	line("File " + plain(s.Source) + ", plan " + plain(s.Plan))
	_, err := w.Write(b.Bytes())
	return err
}

func (c Cell) markdown() string {
	switch {
	case c.Write != nil:
		var boxes []string
		for _, label := range c.Write {
			boxes = append(boxes, strings.TrimSpace(plain(label)+" "+blank))
		}
		return strings.Join(boxes, " ")
	case c.Bold && c.Text != "":
		return "**" + plain(c.Text) + "**"
	}
	return plain(c.Text)
}

// blank is room to write.
const blank = "........"

// plain is text that Markdown takes as it is, on one line.
func plain(s string) string { return marks.Replace(s) }

// marks are those that mean something within a line.
var marks = strings.NewReplacer("\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "[", "\\[", "]", "\\]", "|", "\\|",
	"~", "\\~", "<", "&lt;", "&", "&amp;", "\n", " ", "\r", " ")

func mapped(all []string, f func(string) string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = f(s)
	}
	return out
}
