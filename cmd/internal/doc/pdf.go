package doc

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
	margin  = 9.0  // mm, on all sides
	foot    = 9.6  // mm, kept for the foot of a page
	line    = 4.8  // mm, from line to line of a paragraph
	body    = 12.0 // pt: what is read at arm's length
	small   = 9.0  // pt, of the foot
	large   = 16.0 // pt
	middle  = 13.0 // pt, of headings
	least   = 10.0 // mm, height of a row with boxes: a gloved hand writes in it
	tallest = 12.0 // mm, the most that such a row is stretched to where a page has room
	dense   = 5.0  // mm, height of a row without
)

// PDF writes the document on paper, black on white. Letters that its font does not
// have are replaced, and the document says so.
func (d *Doc) PDF(w io.Writer, p Paper) error {
	font, err := glyphs.Covering(liberationsansregular.TTF, liberationsansbold.TTF)
	if err != nil {
		return err
	}
	cover := &cover{Cover: font}
	shown := &Doc{
		Title: cover.shown(d.Title),
		Name:  cover.shown(either(d.Name, d.Title)), Short: cover.shown(either(d.Short, d.Title)),
		State: cover.shown(d.State),
		Facts: cover.facts(d.Facts), Blanks: mapped(d.Blanks, cover.shown), Foot: mapped(d.Foot, cover.shown),
		Blocks: cover.blocks(d.Blocks),
	}
	if cover.Lacks {
		note := Paragraph{Words: string(glyphs.Lost) +
			" stands for a letter that the font of this sheet does not have; the file has it."}
		last := &shown.Blocks
		if n := len(shown.Blocks); n > 0 {
			if s, is := shown.Blocks[n-1].(*Section); is {
				last = &s.Blocks
			}
		}
		*last = append(*last, note)
	}
	t := newSetter(shown, p)
	t.draw(t.pages())
	return t.pdf.Output(w)
}

// A setter sets a document on pages.
type setter struct {
	doc        *Doc
	pdf        *fpdf.Fpdf
	wide, tall float64 // mm, between the margins
	row        float64 // mm, height of a row with boxes
	units      []unit
	forms      map[string]ruling // by the form of a table
}

// A unit is blocks that are kept on one page where they fit on one.
type unit struct {
	section *Section
	top     bool // it is under the title
}

func newSetter(d *Doc, p Paper) *setter {
	pdf := fpdf.New("P", "mm", p.name(), "")
	// The same document is the same bytes: no time of day, and tables in order.
	epoch := time.Unix(0, 0).UTC()
	pdf.SetCreationDate(epoch)
	pdf.SetModificationDate(epoch)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("leastmove", true)
	pdf.SetTitle(d.Name, true)
	pdf.SetLang("en")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(margin, margin, margin)
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	wide, tall := pdf.GetPageSize()
	t := &setter{doc: d, pdf: pdf, wide: wide - 2*margin, tall: tall - 2*margin - foot, units: d.units()}
	t.forms = t.columns()
	return t
}

// units are the title with what belongs to it, and then section by section.
func (d *Doc) units() []unit {
	now := &Section{Heading: d.Title, Blanks: d.Blanks}
	out := []unit{{section: now, top: true}}
	if len(d.Facts) > 0 {
		now.Blocks = append(now.Blocks, Facts(d.Facts))
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case *Section:
			out, now = append(out, unit{section: b}), nil
		default:
			if now == nil {
				now = &Section{}
				out = append(out, unit{section: now})
			}
			now.Blocks = append(now.Blocks, b)
		}
	}
	return out
}
