package doc

// A piece is what may not be cut: a line, a row. It is drawn from its top.
type piece struct {
	tall float64 // mm
	row  bool    // of a table, with boxes: it may be taller
	ends bool    // the page ends before the piece that follows; nothing is drawn
	draw func(y float64)
}

// A leaf is what stands on one page.
type leaf []piece

// pages lays the document out.
func (t *setter) pages() []leaf {
	t.row = least
	return t.laid()
}

// between is the room in mm between two units.
const between = 1.6

// laid breaks the units into pages: one goes to the next page whole where it fits on
// one; a longer one starts where half a page is left.
func (t *setter) laid() []leaf {
	pages, used, ended := []leaf{nil}, 0.0, false
	next := func() { pages, used, ended = append(pages, nil), 0, false }
	for i := range t.units {
		pieces := t.pieces(&t.units[i])
		if len(pieces) == 0 {
			continue
		}
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
