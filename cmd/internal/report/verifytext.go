package report

import (
	"io"

	"leastmove/cmd/internal/verify"
)

// VerifyText writes what became of the moves, for the crew.
func VerifyText(w io.Writer, r *verify.Result, layout Page) error {
	v := &verified{speaker: speakerOf(r.Train), r: r}
	p := &page{width: layout.width()}
	p.paragraph("", v.title())
	p.blank()
	for n, b := range v.pieces(layout) {
		if b.heading != "" {
			p.heading(b.heading)
		} else if n > 0 {
			p.blank()
		}
		if !b.small {
			p.sentences(b)
		}
		p.list(b.items)
		if b.small {
			p.sentences(b)
		}
		if b.table != nil {
			p.grid(*b.table)
		}
	}
	_, err := p.WriteTo(w)
	return err
}

func (p *page) sentences(b piece) {
	for _, words := range b.words {
		p.paragraph("", words)
	}
}
