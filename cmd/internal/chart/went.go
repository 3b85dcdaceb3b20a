package chart

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Sizes of the drawing of where feet went, in points.
const (
	wentName   = 13 // of a station's name
	wentLine   = 24 // of one direction: its words and its marks
	wentGap    = 8  // between stations, and between directions beside each other
	wentLegend = 30 // of the legend with one line of words below its marks
	wentWords  = 8  // of each further line
	wentMark   = 3  // radius
)

// Went draws where each foot went against where it was sent, a row a station: a ring where it was sent to, a disc where
// it went as far as readings tell, with a line for what they leave open. All are on one scale, from where it was.
func Went(f *view.Figures) []Drawing {
	if len(f.Went) == 0 {
		return nil
	}
	w := &wentFigure{Figures: f, words: namesOf(f)}
	const most, few = 8, 4 // stations of half a sheet of paper, and of a part
	return paged("Where each foot went, against where it was sent", f.Went, most, few,
		func(rows []view.WentStation, legend bool) rowDrawing {
			one := *w
			one.rows, one.width, one.beside, one.goesOn = rows, usualWidth, true, !legend
			return &one
		}, func(rows []view.WentStation) rowDrawing {
			one := *w
			one.rows, one.width = rows, phoneWidth
			return &one
		})
}

// A wentFigure is that drawing under way.
type wentFigure struct {
	*view.Figures
	words  names
	rows   []view.WentStation // of them all, those of this drawing
	width  vg.Length
	beside bool // up and down and sideways stand beside each other
	goesOn bool // in a part below that has the legend
}

func (w *wentFigure) height() vg.Length {
	rows := titleRoom + vg.Length(len(w.rows))*w.rowHeight()
	if w.goesOn {
		return rows
	}
	return rows + wentLegend + w.furtherWords()
}

func (w *wentFigure) draw(c *sheet, title string) {
	c.title(title)
	y := c.Max.Y - titleRoom
	for n := range w.rows {
		w.row(c, &w.rows[n], y)
		y -= w.rowHeight()
	}
	if !w.goesOn {
		w.legend(c)
	}
}

func (w *wentFigure) rowHeight() vg.Length {
	if w.beside {
		return wentName + wentLine + wentGap
	}
	return wentName + 2*wentLine + wentGap
}

// most is the largest distance that is drawn, in mm.
func (w *wentFigure) most() float64 {
	most := 1e-9
	for _, s := range w.Went {
		for n := range s.Sent {
			most = math.Max(most, math.Max(math.Abs(s.Sent[n]), math.Abs(s.Went[n])+s.Half[n]))
		}
	}
	return most
}

// row is one station from y down.
func (w *wentFigure) row(c *sheet, s *view.WentStation, y vg.Length) {
	name := w.words.Machine(s.Machine) + ", " + w.words.FeetOf(s.Machine, s.Feet)
	if s.Suspect {
		name += ": look here"
		c.fill(ink(), 0, y-wentName+2, 3, y)
	}
	c.text(normal, 0, -1, 6, y, short(normal, name, w.width-8))
	y -= wentName
	panel := w.width - 8
	if w.beside {
		panel = (w.width - 8 - wentGap) / 2
	}
	for n := range s.Sent {
		x := vg.Length(4)
		if w.beside {
			x += vg.Length(n) * (panel + wentGap)
		}
		w.marks(c, s, n, x, x+panel, y)
		if !w.beside {
			y -= wentLine
		}
	}
}

// marks are those of direction n between two ends.
func (w *wentFigure) marks(c *sheet, s *view.WentStation, n int, x0, x1, y vg.Length) {
	c.text(small, 0, -1, x0+2, y, w.said(s, n))
	middle, line := (x0+x1)/2, y-wentLine+9
	scale := (x1 - x0 - 4*wentMark) / 2 / vg.Length(w.most())
	at := func(mm float64) vg.Length { return middle + vg.Length(mm)*scale*w.toward(n) }
	c.line(hair(), x0, line, x1, line)
	c.line(datum(), middle, line-6, middle, line+4)
	if half := s.Half[n]; half > 0 {
		c.line(pen(1.2), at(s.Went[n]-half), line, at(s.Went[n]+half), line)
	}
	c.disc(at(s.Went[n]), line, wentMark-0.4)
	c.circle(pen(1), at(s.Sent[n]), line, wentMark+1.2)
}

// toward is which way on the page a direction counts: up goes to the right, left goes to the left.
func (w *wentFigure) toward(n int) vg.Length {
	if n == 1 {
		return -1
	}
	return 1
}

// said says it in words.
func (w *wentFigure) said(s *view.WentStation, n int) string {
	way := func(mm float64) string {
		plus, minus := "up %s", "down %s"
		if n == 1 {
			plus, minus = "left %s", "right %s"
		}
		return words.Signed(w.words.Offset, mm, plus, minus)
	}
	return "sent " + way(s.Sent[n]) + ", went " + way(s.Went[n]) + " ± " + string(w.words.Offset(s.Half[n]))
}

// scale says from where and which way the marks go, in lines.
func (w *wentFigure) scale() []string {
	return lines(small, "From where it was ("+w.words.MoveUnit()+
		") at the stroke in the middle: down and left to its left, up and right to its right.", w.width-8)
}

// furtherWords is the height of the lines of scale after the first.
func (w *wentFigure) furtherWords() vg.Length { return wentWords * vg.Length(len(w.scale())-1) }

func (w *wentFigure) legend(c *sheet) {
	y := c.Min.Y + 19 + w.furtherWords()
	c.circle(pen(1), 10, y, wentMark+1.2)
	c.text(small, 0, -0.35, 18, y, "sent to")
	c.line(pen(1.2), 56, y, 76, y)
	c.disc(66, y, wentMark-0.4)
	c.text(small, 0, -0.35, 80, y, "went, as readings tell, 95 of 100")
	c.notes(small, 6, 3, wentWords, w.scale())
}

// desc says it for those who do not see it.
func (w *wentFigure) desc() string {
	var all []string
	for k := range w.rows {
		s := &w.rows[k]
		all = append(all, w.words.Machine(s.Machine)+", "+w.words.FeetOf(s.Machine, s.Feet)+": "+w.said(s, 0)+"; "+
			w.said(s, 1))
	}
	return "In " + w.words.MoveUnit() + ". " + strings.Join(all, ". ") + "."
}
