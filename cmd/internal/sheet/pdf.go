package sheet

import (
	"io"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"leastmove/cmd/internal/glyphs"
)

// Sizes on paper.
const (
	margin = 9.0  // mm, on all sides
	foot   = 11.0 // mm, kept for the foot of a page
	line   = 4.0  // mm, from line to line of a paragraph
	body   = 9.5  // pt
	small  = 8.5  // pt, of the foot and the heads of tables
	tiny   = 7.0  // pt, of labels in boxes
	large  = 15.0 // pt
	middle = 12.0 // pt, of headings
)

// rowHeights are those that rows of tables may have in mm, the roomiest first:
// the first one is taken that needs no more pages than the last.
func rowHeights() []float64 { return []float64{7, 6.6, 6.2, 5.8, 5.5, 5.2, 4.9, 4.7, 4.5} }

// PDF writes the sheet on paper, black on white. Letters that its font does not
// have are replaced, and the sheet says so.
func (s *Sheet) PDF(w io.Writer, p Paper) error {
	cover, err := glyphs.Covering(liberationsansregular.TTF, liberationsansbold.TTF)
	if err != nil {
		return err
	}
	shown := shown(s, cover)
	if n := len(shown.Blocks); cover.Lacks && n > 0 {
		k := &shown.Blocks[n-1]
		k.Text = append(k.Text, string(glyphs.Lost)+" stands for a letter that the font of this sheet does not have; the file has it.")
	}
	t := newSetter(shown, p)
	t.draw(t.pages())
	return t.pdf.Output(w)
}

// A setter sets a sheet on pages.
type setter struct {
	sheet      *Sheet
	pdf        *fpdf.Fpdf
	wide, tall float64              // mm, between the margins
	row        float64              // mm, height of a row of a table
	forms      map[string][]float64 // widths of columns in mm, by the form of a table
}

func newSetter(s *Sheet, p Paper) *setter {
	pdf := fpdf.New("P", "mm", p.name(), "")
	// The same sheet is the same bytes: no time of day, and tables in order.
	epoch := time.Unix(0, 0).UTC()
	pdf.SetCreationDate(epoch)
	pdf.SetModificationDate(epoch)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("leastmove", true)
	pdf.SetTitle("Work order: "+s.Title, true)
	pdf.SetLang("en")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(margin, margin, margin)
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	wide, tall := pdf.GetPageSize()
	t := &setter{sheet: s, pdf: pdf, wide: wide - 2*margin, tall: tall - 2*margin - foot}
	t.forms = t.columns()
	return t
}

// A piece is what may not be cut: a line, a row. It is drawn from its top.
type piece struct {
	tall float64 // mm
	row  bool    // of a table: it may be taller
	draw func(y float64)
}

// A leaf is what stands on one page.
type leaf []piece

// pages lays the sheet out, as roomy as the fewest pages allow.
func (t *setter) pages() []leaf {
	heights := rowHeights()
	t.row = heights[len(heights)-1]
	least := len(t.laid())
	for _, t.row = range heights {
		if pages := t.laid(); len(pages) <= least {
			return pages
		}
	}
	panic("sheet: no height of rows is as close as the closest")
}

// between is the room in mm between two blocks.
const between = 1.6

// laid breaks the blocks into pages: a block goes to the next page whole where
// it fits on one; a longer one starts where half a page is left.
func (t *setter) laid() []leaf {
	pages, used := []leaf{nil}, 0.0
	next := func() { pages, used = append(pages, nil), 0 }
	for i := range t.sheet.Blocks {
		pieces := t.pieces(&t.sheet.Blocks[i])
		var tall float64
		for _, p := range pieces {
			tall += p.tall
		}
		if used > 0 {
			used += between
			if used+tall > t.tall && (tall <= t.tall || used > t.tall/2) {
				next()
			} else {
				last := &pages[len(pages)-1]
				*last = append(*last, piece{tall: between, draw: func(float64) {}})
			}
		}
		for _, p := range pieces {
			if used+p.tall > t.tall && used > 0 {
				next()
			}
			last := &pages[len(pages)-1]
			*last = append(*last, p)
			used += p.tall
		}
	}
	return pages
}

func (t *setter) draw(pages []leaf) {
	for n, leaf := range pages {
		t.pdf.AddPage()
		t.pdf.SetLineWidth(0.2)
		y, more, row := margin, t.stretch(leaf), t.row
		t.row += more
		for _, p := range leaf {
			p.draw(y)
			y += p.tall
			if p.row {
				y += more
			}
		}
		t.row = row
		t.foot(n+1, len(pages))
	}
}

// stretch is how much taller in mm the rows on a page may be, so that what is left
// of it is room to write.
func (t *setter) stretch(l leaf) float64 {
	left, rows := t.tall, 0.0
	for _, p := range l {
		left -= p.tall
		if p.row {
			rows++
		}
	}
	if rows == 0 {
		return 0
	}
	return max(0, min(rowHeights()[0]-t.row, left/rows))
}
