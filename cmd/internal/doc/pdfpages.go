package doc

// A piece is what may not be cut: a line, a row. It is drawn from its top.
type piece struct {
	tall float64 // mm
	row  bool    // of a table, with boxes: it may be taller
	ends bool    // the page ends before the piece that follows; nothing is drawn
	cut  bool    // a section may go on with it on the next page
	form string  // of the table whose rows begin here; "": none do
	head *piece  // heads of their columns, which an earlier table of the form has; nil: the table has its own
	draw func(y float64)
}

// A leaf is what stands on one page.
type leaf []piece

// pages lays the document out: sections that fit on a page stay whole, but where it is fewer pages with some of them
// cut between tables, items or paragraphs.
func (t *setter) pages() []leaf {
	t.row = least
	cuts := make([]bool, len(t.units))
	whole := t.laid(cuts)
	for i := range cuts {
		cuts[i] = true
	}
	least := t.laid(cuts)
	if len(least) == len(whole) {
		return whole
	}
	for i := range cuts { // no more of them than it takes
		cuts[i] = false
		if fewer := t.laid(cuts); len(fewer) == len(least) {
			least = fewer
		} else {
			cuts[i] = true
		}
	}
	return least
}

// between is the room in mm between two units.
const between = 1.2

// laid breaks the units into pages: one goes to the next page whole where it fits on
// one; a longer one starts where half a page is left. One with cuts may go on on the next page: see piece.cut. The last
// one, where the document is signed, does not stand alone on a page.
func (t *setter) laid(cuts []bool) []leaf {
	pages, used, ended := []leaf{nil}, 0.0, false
	next := func() { pages, used, ended = append(pages, nil), 0, false }
	for i := range t.units {
		pieces := t.pieces(&t.units[i])
		if len(pieces) == 0 {
			continue
		}
		tall := tallOf(pieces)
		whole := tall // with what is to stand on the same page
		if i == len(t.units)-2 {
			whole += between + tallOf(t.pieces(&t.units[i+1]))
		}
		if used > 0 {
			used += between
			last := &pages[len(pages)-1]
			before := 0 // pieces that stand on this page
			if cuts[i] && used+tall > t.tall {
				before = fitting(pieces, t.tall-used)
			}
			switch {
			case before > 0:
				*last = append(append(*last, piece{tall: between, draw: func(float64) {}}), pieces[:before]...)
				pieces = t.continued(t.units[i].section, pieces[before:])
				next()
			case used+whole > t.tall && (whole <= t.tall || used > t.tall/2):
				next()
			default:
				*last = append(*last, piece{tall: between, draw: func(float64) {}})
			}
		}
		for _, p := range pieces {
			if p.ends {
				ended = used > 0
				continue
			}
			if ended || used+p.tall > t.tall && used > 0 {
				next()
			}
			last := &pages[len(pages)-1]
			*last = append(*last, p)
			used += p.tall
		}
	}
	return pages
}

func tallOf(pieces []piece) float64 {
	tall := 0.0
	for _, p := range pieces {
		tall += p.tall
	}
	return tall
}

// fitting is how many pieces fit into some mm up to the last one before which a section may be cut.
func fitting(pieces []piece, room float64) int {
	n, tall := 0, 0.0
	for i, p := range pieces {
		if p.cut && tall <= room {
			n = i
		}
		tall += p.tall
	}
	return n
}

// continued is what is left of a section, under its heading; the first table of each form has the heads of its columns.
func (t *setter) continued(s *Section, rest []piece) []piece {
	var out []piece
	if s.Heading != "" {
		out = t.heading(&Section{Heading: s.marked() + ", continued"}, false)
	}
	headed := map[string]bool{}
	for _, p := range rest {
		if p.form != "" && !headed[p.form] {
			headed[p.form] = true
			if p.head != nil {
				out = append(out, *p.head)
			}
		}
		out = append(out, p)
	}
	return out
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
	return max(0, min(tallest-t.row, left/rows))
}
