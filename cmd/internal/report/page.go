package report

import (
	"io"
	"slices"
)

// A page is what is said, in order: headings, paragraphs, lists and tables. It
// is laid out once all of it is there: as text within a width, or as sections
// for other formats.
type page struct {
	said  []block
	width int
	mark  string // beside every heading: what the page depends on
}

// A block is one of these; of text its first words may be set in by an indent.
type block struct {
	kind   blockKind
	indent string
	words  string
	grid   grid
}

type blockKind int

const (
	saidBlank     blockKind = iota
	saidHeading             // starts a section
	saidParagraph           // sentences
	saidItem                // of a list
	saidCaption             // of the tables that follow
	saidGrid
)

// heading starts a section.
func (p *page) heading(words string) {
	if p.mark != "" {
		words += " (" + p.mark + ")"
	}
	p.said = append(p.said, block{kind: saidHeading, words: words})
}

// paragraph says sentences, every line but the first as far in as the first
// one's indent is wide.
func (p *page) paragraph(indent, words string) {
	p.said = append(p.said, block{kind: saidParagraph, indent: indent, words: words})
}

// caption names the tables that follow.
func (p *page) caption(indent, words string) {
	p.said = append(p.said, block{kind: saidCaption, indent: indent, words: words})
}

// item is a paragraph of a list that is set in like the others of it.
func (p *page) item(indent, words string) {
	p.said = append(p.said, block{kind: saidItem, indent: indent, words: words})
}

// list says one paragraph for each item.
func (p *page) list(items []string) {
	for _, item := range items {
		p.item("- ", item)
	}
}

// blank is an empty line of text.
func (p *page) blank() { p.said = append(p.said, block{}) }

// grid is a table.
func (p *page) grid(g grid) { p.said = append(p.said, block{kind: saidGrid, grid: g}) }

// WriteTo lays the page out as text.
func (p *page) WriteTo(w io.Writer) (int64, error) {
	out := &plain{width: p.width}
	for i := range p.said {
		out.block(&p.said[i])
	}
	return out.WriteTo(w)
}

// A grid is a table: its first row may be a header. Cells in the columns that
// may wrap go over several lines where the page is too narrow; the others,
// those with the numbers, never do.
type grid struct {
	rows  [][]string
	wraps []bool // by column
	right []bool // by column: flush right; nil: none
	names int    // columns that name what a row speaks of; 0: the first
	// Of tables in other formats. A header longer by a column: its first one takes the
	// rows that are a name alone, to which those after them belong (text sets these off
	// by "- "). What joins a row and one without a name that goes on with it; "": a colon.
	header []string
	joint  string
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
