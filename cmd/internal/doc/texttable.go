package doc

import (
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// gap is the blank columns between two columns of a table.
const gap = 2

// A grid is the rows of some tables in columns of one width. Cells in the columns
// that may wrap go over several lines where the page is too narrow; the others, those
// with the numbers, never do.
type grid struct {
	rows    [][]string
	columns []Column
}

// tables writes tables of one form, indented by a gap.
func (t *texter) tables(run []*Table) {
	if c := run[0]; len(run) == 1 && c.Caption != "" && !c.Implied && !c.Same {
		t.paragraph(in(c.In), c.Caption)
	}
	g := &grid{columns: run[0].Columns}
	if run[0].Grouped {
		g.columns = g.columns[1:]
	}
	for n, k := range run {
		if n > 0 {
			g.rows = append(g.rows, make([]string, len(g.columns)))
		}
		caption := ""
		if len(run) > 1 {
			caption = k.Caption
		}
		g.add(k, Bare(caption))
	}
	t.grid(g)
}

// add adds the rows of a table under its head.
func (g *grid) add(k *Table, caption string) {
	if !k.Bare {
		var head []string
		for _, c := range g.columns {
			head = append(head, Bare(either(c.Brief, c.Head)))
		}
		head[0] = either(caption, head[0])
		g.rows = append(g.rows, head)
	}
	group := ""
	for _, cells := range k.Rows {
		first := ""
		if k.Grouped {
			if cells[0].Text != group {
				group = cells[0].Text
				row := make([]string, len(g.columns))
				row[0] = Bare(group)
				g.rows = append(g.rows, row)
			}
			cells, first = cells[1:], "- "
		}
		g.row(cells, first)
	}
}

// row adds a row, and more where some cell has several lines.
func (g *grid) row(cells []Cell, first string) {
	for line, more := 0, true; more; line++ {
		more = false
		row := make([]string, len(cells))
		for c, cell := range cells {
			lines := strings.Split(cell.written(Bare), "\n")
			if line < len(lines) {
				row[c] = lines[line]
			}
			more = more || line+1 < len(lines)
		}
		row[0] = first + row[0]
		g.rows, first = append(g.rows, row), ""
	}
}

// grid writes the rows.
func (t *texter) grid(g *grid) {
	style := table.Style{Name: "plain", Box: table.BoxStyle{PaddingRight: strings.Repeat(" ", gap)}}
	w := table.NewWriter()
	w.SetStyle(style)
	var configs []table.ColumnConfig
	for c, most := range g.widths(t.width - gap) {
		config := table.ColumnConfig{Number: c + 1}
		if g.columns[c].Wraps {
			config.WidthMax = most
			config.WidthMaxEnforcer = func(s string, most int) string { return strings.Join(Wrap(s, most), "\n") }
		}
		if g.columns[c].Number {
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
		t.line(strings.Repeat(" ", gap) + line)
	}
}

// narrowest is the width below which no column is wrapped.
const narrowest = 8

// widths are those of the columns: as wide as their cells, those that may wrap
// made narrower, the widest first, until the whole fits; a word is broken only where it
// does not fit otherwise.
func (g *grid) widths(room int) []int {
	widths := make([]int, len(g.columns))
	for _, row := range g.rows {
		for c, cell := range row {
			widths[c] = max(widths[c], columns(cell))
		}
	}
	total := gap * (len(widths) - 1)
	for _, w := range widths {
		total += w
	}
	for _, whole := range []bool{true, false} {
		least := make([]int, len(widths))
		for c := range least {
			least[c] = narrowest
			if whole {
				least[c] = max(narrowest, g.longestWord(c))
			}
		}
		for ; total > room; total-- {
			widest := -1
			for c, w := range widths {
				if g.columns[c].Wraps && w > least[c] && (widest < 0 || w > widths[widest]) {
					widest = c
				}
			}
			if widest < 0 {
				break
			}
			widths[widest]--
		}
	}
	return widths
}

// longestWord is the width of the longest word of a column.
func (g *grid) longestWord(c int) int {
	most := 0
	for _, row := range g.rows {
		for _, word := range strings.Fields(row[c]) {
			most = max(most, columns(word))
		}
	}
	return most
}
