// Package glyphs says which letters a font has and in which order they are set.
package glyphs

import (
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
)

// Lost stands for a letter that the font does not have.
const Lost = '\uFFFD'

// A Cover is the letters that all of some fonts have.
type Cover struct {
	fonts []*sfnt.Font
	buf   sfnt.Buffer
	Lacks bool // some letter was asked for that a font lacks
}

// Covering reads fonts in TrueType.
func Covering(fonts ...[]byte) (*Cover, error) {
	c := &Cover{}
	for _, ttf := range fonts {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			return nil, err
		}
		c.fonts = append(c.fonts, f)
	}
	return c, nil
}

// Shown is a text with what the fonts lack replaced.
func (c *Cover) Shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' {
			return r
		}
		for _, f := range c.fonts {
			// The PDF library has 16 bits for a letter.
			if i, err := f.GlyphIndex(&c.buf, r); r > 0xFFFF || err != nil || i == 0 {
				c.Lacks = true
				return Lost
			}
		}
		return r
	}, s)
}

// Visual is one line in the order in which its letters stand on paper.
func Visual(s string) string {
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
