package doc

import (
	"fmt"
	"strings"
	"unicode"

	"leastmove/cmd/internal/glyphs"
)

// font sets what is measured and written next.
func (t *setter) font(bold bool, points float64) {
	style := ""
	if bold {
		style = "B"
	}
	t.pdf.SetFont("sans", style, points)
}

// text writes one line, its foot on y.
func (t *setter) text(x, y float64, words string) { t.pdf.Text(x, y, glyphs.Visual(words)) }

// lines breaks words at blanks, and a word that is wider than a line anywhere.
func (t *setter) lines(words string, wide float64) []string {
	var out []string
	now := ""
	for _, word := range strings.FieldsFunc(words, breaks) {
		both := word
		if now != "" {
			both = now + " " + word
		}
		if t.pdf.GetStringWidth(both) <= wide {
			now = both
			continue
		}
		if now != "" {
			out = append(out, now)
		}
		now = ""
		for _, r := range word {
			if now != "" && t.pdf.GetStringWidth(now+string(r)) > wide {
				out, now = append(out, now), ""
			}
			now += string(r)
		}
	}
	if now != "" || out == nil {
		out = append(out, now)
	}
	return out
}

// breaks says whether a line may end at a character: not at a blank that holds words together.
func breaks(r rune) bool { return r != '\u00a0' && unicode.IsSpace(r) }

// cut is words as far as they fit.
func (t *setter) cut(words string, wide float64) string {
	if t.pdf.GetStringWidth(words) <= wide {
		return words
	}
	short := []rune(words)
	for len(short) > 0 && t.pdf.GetStringWidth(string(short)+"…") > wide {
		short = short[:len(short)-1]
	}
	return string(short) + "…"
}

func (t *setter) tick(x, y float64) { t.pdf.Rect(x+0.6, y+0.6, 3.8, 3.8, "D") }

// boxes are things to tick off, one after the other on a line as long as they fit; one
// that is longer than a line has lines of its own.
func (t *setter) boxes(all []string) []piece {
	const apart = 4.0 // mm
	t.font(false, body)
	var out []piece
	for len(all) > 0 {
		n, used := 0, 0.0
		for n < len(all) {
			more := markIn + t.pdf.GetStringWidth(all[n])
			if used+more > t.wide {
				break
			}
			used += more + apart
			n++
		}
		if n == 0 {
			out = append(out, t.paragraph(all[0], markIn, func(y float64) { t.tick(margin, y) })...)
			all = all[1:]
			continue
		}
		row := all[:n]
		all = all[n:]
		out = append(out, piece{tall: line, draw: func(y float64) {
			t.font(false, body)
			x := margin
			for _, words := range row {
				t.tick(x, y)
				t.text(x+markIn, y+line-1, words)
				x += markIn + t.pdf.GetStringWidth(words) + apart
			}
		}})
	}
	return out
}

// heading has, but for the title, a line above it, and fields to write in
// at its right.
func (t *setter) heading(s *Section, top bool) []piece {
	size, tall := middle, 5.6
	if top {
		size, tall = large, 7.4
	}
	t.font(true, size)
	room := 0.0
	if !top && len(s.Blanks) > 0 {
		room = 38 * float64(len(s.Blanks))
	}
	var out []piece
	for n, words := range t.lines(s.marked(), t.wide-room-3) {
		out = append(out, piece{tall: tall, draw: func(y float64) {
			if n == 0 && !top {
				t.pdf.SetLineWidth(0.5)
				t.pdf.Line(margin, y, margin+t.wide, y)
				t.pdf.SetLineWidth(0.2)
			}
			if n == 0 && room > 0 {
				t.blanks(s.Blanks, margin+t.wide-room, y+tall-1.3, room)
			}
			t.font(true, size)
			t.text(margin, y+tall-1.3, words)
		}})
	}
	return out
}

// blanks are labels, each with a line to write on.
func (t *setter) blanks(labels []string, x, y, wide float64) {
	each := wide / float64(len(labels))
	for _, label := range labels {
		t.font(false, body)
		t.text(x, y, label)
		t.pdf.Line(x+t.pdf.GetStringWidth(label)+1, y+0.4, x+each-2, y+0.4)
		x += each
	}
}

// fieldsInARow is how many things to write in stand side by side.
const fieldsInARow = 4

func (t *setter) fields(labels []string) []piece {
	var out []piece
	for len(labels) > 0 {
		row := labels[:min(fieldsInARow, len(labels))]
		labels = labels[len(row):]
		out = append(out, piece{tall: 6, draw: func(y float64) { t.blanks(row, margin, y+5, t.wide) }})
	}
	return out
}

// paragraph is words some way in, with a mark beside the first line.
func (t *setter) paragraph(words string, in float64, mark func(y float64)) []piece {
	t.font(false, body)
	var out []piece
	for n, words := range t.lines(words, t.wide-in) {
		out = append(out, piece{tall: line, draw: func(y float64) {
			if n == 0 && mark != nil {
				mark(y)
			}
			t.font(false, body)
			t.text(margin+in, y+line-1, words)
		}})
	}
	return out
}

// foot is what every page says of itself.
func (t *setter) foot(page, pages int) {
	y := margin + t.tall + 5.4
	t.pdf.Line(margin, y-3.5, margin+t.wide, y-3.5) // clear of the rule under the last row
	t.font(true, small)
	number := fmt.Sprintf("%d of %d", page, pages)
	w := t.pdf.GetStringWidth(number)
	t.text(margin+t.wide-w, y, number)
	t.font(false, small)
	const date = 42
	at := margin
	if t.doc.State != "" {
		t.font(true, body)
		t.text(at, y, t.doc.State)
		at += t.pdf.GetStringWidth(t.doc.State) + 4
		t.font(false, small)
	}
	t.text(at, y, t.cut(t.doc.Short, margin+t.wide-w-date-4-at))
	t.blanks([]string{"date"}, margin+t.wide-w-date, y, date)
	t.font(false, small)
	if len(t.doc.Foot) == 0 {
		return
	}
	rest := ""
	for _, words := range t.doc.Foot[1:] {
		rest += "   " + words
	}
	t.text(margin, y+4.2, t.cut(t.doc.Foot[0], t.wide-t.pdf.GetStringWidth(rest))+rest)
}
