package doc

import (
	"bytes"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// pieces are those of a unit.
func (t *setter) pieces(u *unit) []piece {
	s := u.section
	var out []piece
	if s.Heading != "" {
		out = append(out, t.heading(s, u.top)...)
	}
	if u.top {
		out = append(out, t.fields(s.Blanks)...)
	}
	out = append(out, t.blocks(s.Blocks)...)
	if !u.top && s.Heading == "" {
		out = append(out, t.fields(s.Blanks)...)
	}
	return out
}

func (t *setter) blocks(blocks []Block) []piece {
	var out []piece
	headed, tables := map[string]bool{}, false // a table stands above
	for _, b := range blocks {
		switch b := b.(type) {
		case *Section:
			out = append(out, t.pieces(&unit{section: b})...)
		case Subheading:
			out = append(out, t.bold(b.Words)...)
		case Paragraph:
			lines := t.paragraph(b.Words, inwards*float64(b.In), nil)
			lines[0].cut = len(out) >= textAlone && !tables
			out = append(out, lines...)
		case *List:
			all := t.list(b)
			if len(all) > 0 {
				all[0].cut = len(out) >= textAlone
			}
			out = append(out, all...)
		case Facts:
			for _, f := range b {
				out = append(out, t.paragraph(f.Name+": "+f.Value, 0, nil)...)
			}
		case Blanks:
			out = append(out, t.fields(b)...)
		case *Table:
			all := t.captioned(b, headed[b.Form])
			if len(all) > 0 {
				all[0].cut = (tables || len(out) >= textAlone) && !b.Joins
			}
			out, tables = append(out, all...), true
			headed[b.Form] = b.Form != ""
		case *Figure:
			out = append(out, t.figure(b)...)
		case *Hold:
			out = append(out, t.hold(b))
		case Lines:
			for _, words := range b.Lines {
				out = append(out, t.paragraph(words, inwards, nil)...)
			}
		case See:
			out = append(out, t.paragraph(b.Before+" "+b.Words+".", 0, nil)...)
		case Appendix:
			out = append(out, t.bold(b.Words)...)
		case PageBreak:
			out = append(out, piece{ends: true, draw: func(float64) {}})
		}
	}
	return out
}

// captioned is a table under its caption; headed: an earlier one of its form has the heads of its columns.
func (t *setter) captioned(b *Table, headed bool) []piece {
	var out []piece
	switch above := b.aside(); {
	case t.forms[b.Form].pairs && above != "":
		out = t.captionOver(b.Caption, above)
	case b.Caption != "" && !b.Implied:
		out = t.bold(b.Caption)
	}
	rows := t.table(b, !b.Bare && !headed)
	if len(rows) > 0 && !b.Bare && b.Form != "" {
		rows[0].form = b.Form
		if headed {
			head := t.headOf(b, t.forms[b.Form])
			rows[0].head = &head
		}
		if !t.forms[b.Form].pairs {
			t.parted(b, rows[len(rows)-len(b.Rows):])
		}
	}
	return append(out, rows...)
}

// parted lets a section go on on the next page within a table, under its head, two rows at least on either side.
func (t *setter) parted(b *Table, rows []piece) {
	head := t.headOf(b, t.forms[b.Form])
	for n := 2; n <= len(rows)-2; n++ {
		rows[n].cut, rows[n].form, rows[n].head = true, b.Form, &head
	}
}

// textAlone is how many lines of text may stand without the first table below them, where a section is cut.
const textAlone = 4

// inwards is how far in mm a step is.
const inwards = 4.0

// markIn is how far in mm words stand in from their box or mark.
const markIn = 6.5

func (t *setter) list(l *List) []piece {
	if l.Kind == Short {
		var words []string
		for _, item := range l.Items {
			words = append(words, item...)
		}
		return t.boxes(words)
	}
	var out []piece
	for n, item := range l.Items {
		mark := func(y float64) { t.tick(margin, y) }
		if l.Kind != Checks {
			words := "•"
			if l.Kind == Numbers {
				words = fmt.Sprintf("%d.", n+1)
			}
			mark = func(y float64) {
				t.font(false, body)
				t.text(margin+inwards*float64(l.In), y+line-1, words)
			}
		}
		for k, words := range item {
			lines := t.paragraph(words, markIn+inwards*float64(l.In), mark)
			lines[0].cut = n > 0 && k == 0
			out, mark = append(out, lines...), nil
		}
	}
	return out
}

// bold is a heading of a lower kind.
func (t *setter) bold(words string) []piece {
	t.font(true, body)
	var out []piece
	for _, words := range t.lines(words, t.wide) {
		out = append(out, piece{tall: line + 0.2, draw: func(y float64) {
			t.font(true, body)
			t.text(margin, y+line-0.6, words)
		}})
	}
	return out
}

// hold is a frame that is never cut.
func (t *setter) hold(b *Hold) piece {
	blocks := append([]Block{Subheading{b.Heading}}, b.Blocks...)
	pieces := t.pieces(&unit{section: &Section{Blanks: b.Blanks, Blocks: blocks}})
	tall, laid := 3.0, t.row
	for _, p := range pieces {
		tall += p.tall
	}
	return piece{tall: tall, draw: func(y float64) {
		t.pdf.SetLineWidth(0.8)
		t.pdf.Rect(margin-1.5, y+0.4, t.wide+3, tall-0.8, "D")
		t.pdf.SetLineWidth(0.2)
		y += 1.5
		row := t.row
		t.row = laid
		for _, p := range pieces {
			p.draw(y)
			y += p.tall
		}
		t.row = row
	}}
}

// figure is a drawing as wide as the paper, which says itself what it is.
func (t *setter) figure(f *Figure) []piece {
	if f.PNG == nil {
		return nil
	}
	options := fpdf.ImageOptions{ImageType: "PNG"}
	info := t.pdf.RegisterImageOptionsReader(f.Anchor, options, bytes.NewReader(f.PNG))
	tall := t.wide * info.Height() / info.Width()
	return []piece{{tall: tall, draw: func(y float64) {
		t.pdf.ImageOptions(f.Anchor, margin, y, t.wide, tall, false, options, 0, "")
	}}}
}
