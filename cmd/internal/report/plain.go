package report

import (
	"bytes"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// plain is a page laid out as text.
type plain struct {
	bytes.Buffer
	width int
}

func (l *plain) block(b *block) {
	switch b.kind {
	case saidBlank:
		l.line("")
	case saidHeading:
		l.line("")
		l.paragraph("", b.words)
		l.line(strings.Repeat("-", min(l.width, columns(b.words))))
	case saidGrid:
		l.grid(b.grid)
	default:
		l.paragraph(b.indent, b.words)
	}
}

func (l *plain) paragraph(indent, words string) {
	rest := strings.Repeat(" ", columns(indent))
	for _, line := range wrap(words, l.width-columns(indent)) {
		l.line(indent + line)
		indent = rest
	}
}

func (l *plain) line(s string) {
	l.WriteString(strings.TrimRight(s, " "))
	l.WriteByte('\n')
}

// gap is the blank columns between two columns of a grid.
const gap = 2

// grid writes the table, indented by a gap.
func (l *plain) grid(g grid) {
	style := table.Style{Name: "plain", Box: table.BoxStyle{PaddingRight: strings.Repeat(" ", gap)}}
	w := table.NewWriter()
	w.SetStyle(style)
	var configs []table.ColumnConfig
	for c, most := range g.widths(l.width - gap) {
		config := table.ColumnConfig{Number: c + 1}
		if g.wraps[c] {
			config.WidthMax = most
			config.WidthMaxEnforcer = func(s string, most int) string { return strings.Join(wrap(s, most), "\n") }
		}
		if g.right != nil && g.right[c] {
			config.Align = text.AlignRight
		}
		configs = append(configs, config)
	}
	w.SetColumnConfigs(configs)
	for _, cells := range g.rows {
		row := make(table.Row, len(cells))
		for c := range cells {
			row[c] = cells[c]
		}
		w.AppendRow(row)
	}
	for _, line := range strings.Split(w.Render(), "\n") {
		l.line(strings.Repeat(" ", gap) + line)
	}
}

// narrowest is the width below which no column is wrapped.
const narrowest = 8

// widths are those of the columns: as wide as their cells, those that may wrap
// made narrower, the widest first, until the whole fits.
func (g grid) widths(room int) []int {
	widths := make([]int, len(g.wraps))
	for _, row := range g.rows {
		for c, cell := range row {
			widths[c] = max(widths[c], columns(cell))
		}
	}
	total := gap * (len(widths) - 1)
	for _, w := range widths {
		total += w
	}
	for ; total > room; total-- {
		widest := -1
		for c, w := range widths {
			if g.wraps[c] && w > narrowest && (widest < 0 || w > widths[widest]) {
				widest = c
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	return widths
}

// wrap breaks words into lines of at most so many columns, at blanks where
// there are any.
func wrap(words string, width int) []string {
	var lines []string
	line, used := "", 0
	end := func() { lines, line, used = append(lines, line), "", 0 }
	for _, word := range tied(strings.Fields(words)) {
		if used > 0 {
			if used+1+columns(word) <= width {
				line, used = line+" "+word, used+1+columns(word)
				continue
			}
			end()
		}
		for _, c := range word {
			if w := columns(string(c)); used > 0 && used+w > width {
				end()
			}
			line += string(c)
			used += columns(string(c))
		}
	}
	if line != "" || lines == nil {
		end()
	}
	return lines
}

// tied are words, a number and its unit as one.
func tied(words []string) []string {
	var out []string
	for _, word := range words {
		n := len(out)
		switch strings.Trim(word, "(),.;:") {
		case "%", "mm", "mil", "mrad", "inch":
			if n > 0 && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789") {
				out[n-1] += " " + word
				continue
			}
		}
		out = append(out, word)
	}
	return out
}

// columns is how many columns of a terminal a text takes up.
func columns(s string) int { return text.StringWidthWithoutEscSequences(s) }
