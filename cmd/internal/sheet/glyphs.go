package sheet

import (
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
)

// lost stands for a letter that the font does not have.
const lost = '\uFFFD'

// A cover is the letters of some fonts.
type cover struct {
	fonts []*sfnt.Font
	buf   sfnt.Buffer
	lacks bool // some letter was asked for that a font lacks
}

func covering(fonts ...[]byte) (*cover, error) {
	c := &cover{}
	for _, ttf := range fonts {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			return nil, err
		}
		c.fonts = append(c.fonts, f)
	}
	return c, nil
}

// shown is a text with what the fonts lack replaced.
func (c *cover) shown(s string) string {
	return strings.Map(func(r rune) rune {
		for _, f := range c.fonts {
			// The PDF library has 16 bits for a letter.
			if i, err := f.GlyphIndex(&c.buf, r); r > 0xFFFF || err != nil || i == 0 {
				c.lacks = true
				return lost
			}
		}
		return r
	}, s)
}

// sheet is a copy of a sheet with what the fonts lack replaced.
func (c *cover) sheet(s *Sheet) *Sheet {
	out := &Sheet{Title: c.shown(s.Title), Source: c.shown(s.Source), Plan: c.shown(s.Plan)}
	for _, b := range s.Blocks {
		b.Heading = c.shown(b.Heading)
		b.Fields, b.Text = mapped(b.Fields, c.shown), mapped(b.Text, c.shown)
		b.Ticks, b.Boxes = mapped(b.Ticks, c.shown), mapped(b.Boxes, c.shown)
		tables := b.Tables
		b.Tables = nil
		for _, t := range tables {
			rows := t.Rows
			t.Head, t.Rows = mapped(t.Head, c.shown), nil
			for _, row := range rows {
				cells := make([]Cell, len(row))
				for i, k := range row {
					k.Text = c.shown(k.Text)
					if k.Write != nil {
						k.Write = mapped(k.Write, c.shown)
					}
					cells[i] = k
				}
				t.Rows = append(t.Rows, cells)
			}
			b.Tables = append(b.Tables, t)
		}
		out.Blocks = append(out.Blocks, b)
	}
	return out
}

// visual is one line in the order in which its letters stand on paper.
func visual(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return r >= 0x590 }) {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(s, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		return s
	}
	order, err := p.Order()
	if err != nil {
		return s
	}
	var b strings.Builder
	for i := range order.NumRuns() {
		run := order.Run(i)
		if run.Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(run.String()))
		} else {
			b.WriteString(run.String())
		}
	}
	return b.String()
}
