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

// A form is what is known of the columns of the tables of one form.
type form struct {
	widths []float64 // mm, room between columns in them
	boxes  []int     // to write in, the most in a cell
	bold   []bool    // some cell is
}

// columns are the widths in mm of the columns of each form of table.
func (t *setter) columns() map[string][]float64 {
	forms := map[string]*form{}
	for _, u := range t.units {
		t.measure(u.section.Blocks, forms)
	}
	out := map[string][]float64{}
	for name, f := range forms {
		f.fit(t.wide)
		out[name] = f.widths
	}
	return out
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
				f = &form{make([]float64, n), make([]int, n), make([]bool, n)}
				forms[b.Form] = f
			}
			t.measureTable(b, f)
		}
	}
}

func (t *setter) measureTable(k *Table, f *form) {
	t.font(false, body)
	for i, c := range k.Columns {
		for _, word := range strings.Fields(c.Head) {
			f.widths[i] = max(f.widths[i], t.pdf.GetStringWidth(word)+room)
		}
	}
	for _, row := range k.Rows {
		for i, c := range row {
			t.font(c.Bold, body)
			f.widths[i] = max(f.widths[i], t.pdf.GetStringWidth(c.Text)+room)
			f.boxes[i] = max(f.boxes[i], len(c.Write))
			f.bold[i] = f.bold[i] || c.Bold
		}
	}
}

// fit makes the widest columns narrower until all fit, names first, so that a pack
// stays on its line; what is left over goes to the boxes and then to the columns of
// text.
func (f *form) fit(wide float64) {
	total, texts := 0.0, 0.0
	for i, n := range f.boxes {
		least := leastBox * float64(n)
		switch n {
		case 0:
			texts++
		case 1:
			least = loneBox
		}
		f.widths[i] = max(f.widths[i], least)
		total += f.widths[i]
	}
	for total > wide {
		w := f.widest(ample, false)
		if w < 0 {
			w = f.widest(narrow, true)
		}
		if w < 0 {
			break
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

// widest is the widest column of text above a width; below 0: none.
func (f *form) widest(above float64, bolds bool) int {
	w := -1
	for i := range f.widths {
		if f.boxes[i] == 0 && (bolds || !f.bold[i]) && f.widths[i] > above && (w < 0 || f.widths[i] > f.widths[w]) {
			w = i
		}
	}
	return w
}

// table is its rows, and before them its head.
func (t *setter) table(k *Table, head bool) []piece {
	var out []piece
	widths := t.forms[k.Form]
	if head {
		out = append(out, t.headOf(k, widths))
	}
	for _, row := range k.Rows {
		out = append(out, t.rowOf(k, row, widths))
	}
	return out
}

// headOf are the heads of the columns.
func (t *setter) headOf(k *Table, widths []float64) piece {
	t.font(false, body)
	cells, most := make([][]string, len(k.Columns)), 1
	for i, c := range k.Columns {
		cells[i] = t.lines(c.Head, widths[i]-room+0.01)
		most = max(most, len(cells[i]))
	}
	tall := line*float64(most) + 0.4
	return piece{tall: tall, draw: func(y float64) {
		t.font(false, body)
		x := margin
		for i := range k.Columns {
			for n, words := range cells[i] {
				t.text(x, y+tall-1.4-line*float64(len(cells[i])-1-n), words)
			}
			x += widths[i]
		}
	}}
}

// rowOf is one row: a line under it, boxes where there is room to write.
func (t *setter) rowOf(k *Table, row []Cell, widths []float64) piece {
	cells, most, boxes := make([][]string, len(row)), 1, false
	for i, c := range row {
		t.font(c.Bold, body)
		cells[i] = t.lines(c.Text, widths[i]-room+0.01)
		most, boxes = max(most, len(cells[i])), boxes || c.Write != nil
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
		for i, c := range row {
			t.font(c.Bold, body)
			first := y + (high-line*float64(len(cells[i])))/2
			for n, words := range cells[i] {
				at := x
				if k.Columns[i].Number {
					at = x + widths[i] - room - t.pdf.GetStringWidth(words)
				}
				t.text(at, first+line*float64(n+1)-1.2, words)
			}
			for n := range c.Write {
				w := (widths[i] - 1) / float64(len(c.Write))
				t.pdf.Rect(x+w*float64(n), y+0.3, w-1.2, high-0.6, "D")
			}
			x += widths[i]
		}
		t.pdf.SetLineWidth(0.1)
		t.pdf.Line(margin, y+high, margin+t.wide, y+high)
		t.pdf.SetLineWidth(0.2)
	}}
}
