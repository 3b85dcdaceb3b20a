package doc

import "strings"

// Widths in mm.
const (
	room     = 2.2  // between columns
	leastBox = 15.0 // side by side with another
	loneBox  = 19.0
	mostBox  = 26.0
	narrow   = 17.0 // below which no column of text is wrapped
	ample    = 34.0 // to which names give way before what is to be done (bold) is wrapped
)

// A ruling is how the tables of one form are set.
type ruling struct {
	widths []float64 // mm, of columns, room between them included
	pairs  bool      // two rows stand side by side
}

// A form is what is known of the columns of the tables of one form.
type form struct {
	widths []float64 // mm, room between columns in them
	label  float64   // mm, of the first column where rows stand side by side
	paired bool      // rows may
	words  []float64 // mm, of the longest word of each column, room included
	boxes  []int     // to write in, the most in a cell
	bold   []bool    // some cell is
}

// columns are the grids of each form of table.
func (t *setter) columns() map[string]ruling {
	forms := map[string]*form{}
	for _, u := range t.units {
		t.measure(u.section.Blocks, forms)
	}
	out := map[string]ruling{}
	for name, f := range forms {
		out[name] = f.ruling(t.wide)
	}
	return out
}

// ruling sets rows side by side where they may be and fit, else one below the other.
func (f *form) ruling(wide float64) ruling {
	if f.paired {
		half := *f
		half.widths = append([]float64{f.label}, f.widths[1:]...)
		if half.least() <= wide/2 {
			half.fit(wide / 2)
			return ruling{half.widths, true}
		}
	}
	f.fit(wide)
	return ruling{widths: f.widths}
}

// least is the width in mm of all columns with nothing wrapped and boxes as narrow as they may be.
func (f *form) least() float64 {
	total := 0.0
	for i, n := range f.boxes {
		total += max(f.widths[i], leastBox*float64(n))
	}
	return total
}

// measure makes the columns of each form as wide as what stands in them.
func (t *setter) measure(blocks []Block, forms map[string]*form) {
	for _, b := range blocks {
		switch b := b.(type) {
		case *Section:
			t.measure(b.Blocks, forms)
		case *Hold:
			t.measure(b.Blocks, forms)
		case *Table:
			f := forms[b.Form]
			if f == nil {
				n := len(b.Columns)
				f = &form{widths: make([]float64, n), words: make([]float64, n), paired: b.Paired, boxes: make([]int, n),
					bold: make([]bool, n)}
				forms[b.Form] = f
			}
			t.measureTable(b, f)
		}
	}
}

func (t *setter) measureTable(k *Table, f *form) {
	t.font(false, body)
	for i, c := range k.Columns {
		for _, word := range strings.FieldsFunc(c.Head, breaks) {
			f.widths[i] = max(f.widths[i], t.pdf.GetStringWidth(word)+room)
		}
		for _, part := range k.headsOver(i) {
			f.widths[i] = max(f.widths[i], float64(k.boxesIn(i))*(t.pdf.GetStringWidth(part)+room)+1)
		}
	}
	for _, row := range k.Rows {
		for i, c := range row {
			t.font(c.Bold, body)
			f.widths[i] = max(f.widths[i], t.pdf.GetStringWidth(k.line(c))+room)
			for _, word := range strings.FieldsFunc(k.line(c), breaks) {
				f.words[i] = max(f.words[i], t.pdf.GetStringWidth(word)+room)
			}
			if i == 0 {
				f.label = max(f.label, t.pdf.GetStringWidth(labelOf(c))+room)
			}
			f.boxes[i] = max(f.boxes[i], len(c.Write))
			f.bold[i] = f.bold[i] || c.Bold
		}
	}
}

// fit makes the widest columns narrower until all fit, names first, so that a pack
// stays on its line; what is left over goes to the boxes and then to the columns of
// text.
func (f *form) fit(wide float64) {
	total, texts, narrowed := 0.0, 0.0, f.lone(wide)
	for i, n := range f.boxes {
		least := leastBox * float64(n)
		switch n {
		case 0:
			texts++
		case 1:
			least = narrowed
		}
		f.widths[i] = max(f.widths[i], least)
		total += f.widths[i]
	}
	for total > wide {
		w := f.widest(ample, false)
		if w < 0 {
			w = f.widest(narrow, true)
		}
		if w < 0 { // words have to be broken
			clear(f.words)
			if w = f.widest(narrow, true); w < 0 {
				break
			}
		}
		f.widths[w]--
		total--
	}
	for grows := true; grows && total < wide; {
		grows = false
		for i, n := range f.boxes {
			if more := float64(n); n > 0 && f.widths[i] < mostBox*more && total+more <= wide {
				f.widths[i] += more
				total += more
				grows = true
			}
		}
	}
	for i, n := range f.boxes {
		if n == 0 {
			f.widths[i] += max(0, wide-total) / texts
		}
	}
}

// lone is the least width in mm of a box that is alone in its column: where that is too much for all of them, that of
// one beside another.
func (f *form) lone(wide float64) float64 {
	total := 0.0
	for i, n := range f.boxes {
		total += max(f.widths[i], leastBox*float64(n))
		if n == 1 {
			total += max(0, loneBox-max(f.widths[i], leastBox))
		}
	}
	if total > wide && f.least() <= wide {
		return leastBox
	}
	return loneBox
}

// widest is the widest column of text above a width and that of its longest word; below 0: none.
func (f *form) widest(above float64, bolds bool) int {
	w := -1
	for i := range f.widths {
		if f.boxes[i] == 0 && (bolds || !f.bold[i]) && f.widths[i] > max(above, f.words[i]+1) && // it gives 1 mm
			(w < 0 || f.widths[i] > f.widths[w]) {
			w = i
		}
	}
	return w
}

// table is its rows, and before them its head.
func (t *setter) table(k *Table, head bool) []piece {
	var out []piece
	g := t.forms[k.Form]
	if head {
		out = append(out, t.headOf(k, g))
	}
	for n := 0; n < len(k.Rows); n++ {
		row := k.Rows[n : n+1]
		if g.pairs && n+1 < len(k.Rows) {
			row = k.Rows[n : n+2]
			n++
		}
		out = append(out, t.rowOf(k, row, g))
	}
	return out
}

// headOf are the heads of the columns; where rows stand side by side, of both, without the one of their labels.
func (t *setter) headOf(k *Table, g ruling) piece {
	t.font(false, body)
	cells, most := make([][]string, len(k.Columns)), 1
	for i, c := range k.Columns {
		if (i > 0 || !g.pairs) && k.headsOver(i) == nil {
			cells[i] = t.lines(c.Head, g.widths[i]-room+0.01)
		}
		most = max(most, len(cells[i]))
	}
	tall := line*float64(most) + 0.4
	return piece{tall: tall, draw: func(y float64) {
		t.font(false, body)
		x := margin
		for range t.across(g) {
			for i := range k.Columns {
				for n, words := range cells[i] {
					t.text(x, y+tall-1.4-line*float64(len(cells[i])-1-n), words)
				}
				for n, words := range k.headsOver(i) {
					t.text(x+boxAt(g.widths[i], k.boxesIn(i), n), y+tall-1.4, words)
				}
				x += g.widths[i]
			}
		}
	}}
}

// boxAt is how far in mm from the left of a column of a width the box n of some begins.
func boxAt(wide float64, boxes, n int) float64 { return (wide - 1) / float64(boxes) * float64(n) }

// boxesIn is the most boxes that a cell of a column has.
func (k *Table) boxesIn(column int) int {
	n := 0
	for _, row := range k.Rows {
		n = max(n, len(row[column].Write))
	}
	return n
}

// headsOver are the labels of a column's boxes, one over each in place of its head; nil where its cells have one box.
func (k *Table) headsOver(column int) []string {
	for _, row := range k.Rows {
		if labels := row[column].Write; len(labels) > 1 {
			return labels
		}
	}
	return nil
}

// across is how many rows stand side by side.
func (t *setter) across(g ruling) int {
	if g.pairs {
		return 2
	}
	return 1
}

// rowOf is one row, or two side by side: a line under it, boxes where there is room to write.
func (t *setter) rowOf(k *Table, rows [][]Cell, g ruling) piece {
	type set struct {
		Cell
		lines []string
		wide  float64
		flush bool // right
	}
	var cells []set
	most, boxes := 1, false
	for _, row := range rows {
		for i, c := range row {
			t.font(c.Bold, body)
			words := k.line(c)
			if g.pairs && i == 0 {
				words = labelOf(c)
			}
			cells = append(cells, set{c, t.lines(words, g.widths[i]-room+0.01), g.widths[i], k.Columns[i].Number})
			most, boxes = max(most, len(cells[len(cells)-1].lines)), boxes || c.Write != nil
		}
	}
	tall := line*float64(most) + 0.2
	stretches := boxes && tall <= t.row
	switch {
	case stretches:
		tall = t.row
	case !boxes:
		tall = max(dense, tall)
	}
	return piece{tall: tall, row: stretches, draw: func(y float64) {
		x, high := margin, tall
		if stretches {
			high = t.row
		}
		for _, c := range cells {
			t.font(c.Bold, body)
			first := y + (high-line*float64(len(c.lines)))/2
			for n, words := range c.lines {
				at := x
				if c.flush {
					at = x + c.wide - room - t.pdf.GetStringWidth(words)
				}
				t.text(at, first+line*float64(n+1)-1.2, words)
			}
			for n := range c.Write {
				at := boxAt(c.wide, len(c.Write), n)
				t.pdf.Rect(x+at, y+0.3, boxAt(c.wide, len(c.Write), n+1)-at-1.2, high-0.6, "D")
			}
			x += c.wide
		}
		t.pdf.SetLineWidth(0.1)
		t.pdf.Line(margin, y+high, margin+t.wide, y+high)
		t.pdf.SetLineWidth(0.2)
	}}
}
