package report

import (
	"bytes"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// A page is text under way: paragraphs, lists and tables within a width.
type page struct {
	bytes.Buffer
	width int
	mark  string // beside every heading: what the page depends on
}

// heading starts a section.
func (p *page) heading(words string) {
	p.line("")
	if p.mark != "" {
		words += " (" + p.mark + ")"
	}
	p.paragraph("", words)
	p.line(strings.Repeat("-", min(p.width, columns(words))))
}

// paragraph writes sentences, every line but the first as far in as the first
// one's indent is wide.
func (p *page) paragraph(indent, words string) {
	rest := strings.Repeat(" ", columns(indent))
	for _, line := range wrap(words, p.width-columns(indent)) {
		p.line(indent + line)
		indent = rest
	}
}

// list writes one paragraph for each item.
func (p *page) list(items []string) {
	for _, item := range items {
		p.paragraph("- ", item)
	}
}

func (p *page) line(s string) {
	p.WriteString(strings.TrimRight(s, " "))
	p.WriteByte('\n')
}

// A grid is a table: its first row may be a header. Cells in the columns that
// may wrap go over several lines where the page is too narrow; the others,
// those with the numbers, never do.
type grid struct {
	rows  [][]string
	wraps []bool // by column
	right []bool // by column: flush right; nil: none
}

// without is the table without a column.
func (g grid) without(column int) grid {
	rows := make([][]string, len(g.rows))
	for n, row := range g.rows {
		rows[n] = slices.Delete(slices.Clone(row), column, column+1)
	}
	g.rows, g.wraps = rows, slices.Delete(slices.Clone(g.wraps), column, column+1)
	if g.right != nil {
		g.right = slices.Delete(slices.Clone(g.right), column, column+1)
	}
	return g
}

// gap is the blank columns between two columns of a grid.
const gap = 2

// grid writes the table, indented by a gap.
func (p *page) grid(g grid) {
	style := table.Style{Name: "plain", Box: table.BoxStyle{PaddingRight: strings.Repeat(" ", gap)}}
	w := table.NewWriter()
	w.SetStyle(style)
	var configs []table.ColumnConfig
	for c, most := range g.widths(p.width - gap) {
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
		p.line(strings.Repeat(" ", gap) + line)
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
