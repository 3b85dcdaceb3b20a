package sheet

// Widths in mm.
const (
	gap      = 2.2  // between columns
	leastBox = 12.5 // side by side with another
	loneBox  = 18.0
	mostBox  = 24.0
	narrow   = 24.0 // below which no column of text is wrapped
	ample    = 30.0 // to which names give way before what is to be done (bold) is wrapped
)

// columns are the widths of the columns of each form of table, room between
// them in it: as wide as what stands in them, the widest made narrower until all
// fit, names first, so that a pack stays on its line; what is left over goes to the boxes and then to the columns of text.
func (t *setter) columns() map[string][]float64 {
	out, boxes, bold := map[string][]float64{}, map[string][]float64{}, map[string][]bool{}
	for _, b := range t.sheet.Blocks {
		for _, k := range b.Tables {
			if out[k.Form] == nil {
				out[k.Form], boxes[k.Form] = make([]float64, len(k.Head)), make([]float64, len(k.Head))
				bold[k.Form] = make([]bool, len(k.Head))
			}
			widths, count := out[k.Form], boxes[k.Form]
			t.font(false, small)
			for i, head := range k.Head {
				widths[i] = max(widths[i], t.pdf.GetStringWidth(head)+gap)
			}
			for _, row := range k.Rows {
				for i, c := range row {
					t.font(c.Bold, body)
					widths[i] = max(widths[i], t.pdf.GetStringWidth(c.Text)+gap)
					count[i] = max(count[i], float64(len(c.Write)))
					bold[k.Form][i] = bold[k.Form][i] || c.Bold
				}
			}
		}
	}
	for form, widths := range out {
		count, total := boxes[form], 0.0
		for i := range widths {
			least := leastBox * count[i]
			if count[i] == 1 {
				least = loneBox
			}
			widths[i] = max(widths[i], least)
			total += widths[i]
		}
		for total > t.wide {
			widest := func(above float64, bolds bool) int {
				w := -1
				for i := range widths {
					if count[i] == 0 && (bolds || !bold[form][i]) && widths[i] > above && (w < 0 || widths[i] > widths[w]) {
						w = i
					}
				}
				return w
			}
			w := widest(ample, false)
			if w < 0 {
				w = widest(narrow, true)
			}
			if w < 0 {
				break
			}
			widths[w]--
			total--
		}
		for grows := true; grows && total < t.wide; {
			grows = false
			for i := range widths {
				if count[i] > 0 && widths[i] < mostBox*count[i] && total+count[i] <= t.wide {
					widths[i] += count[i]
					total += count[i]
					grows = true
				}
			}
		}
		texts := 0.0
		for i := range count {
			if count[i] == 0 {
				texts++
			}
		}
		for i := range widths {
			if count[i] == 0 {
				widths[i] += max(0, t.wide-total) / texts
			}
		}
	}
	return out
}

// table is its rows, and before them its head.
func (t *setter) table(k *Table, head bool) []piece {
	var out []piece
	widths := t.forms[k.Form]
	if head {
		const tall = 3.9
		out = append(out, piece{tall: tall, draw: func(y float64) {
			t.font(false, small)
			x := margin
			for i, head := range k.Head {
				t.text(x, y+tall-1.1, t.cut(head, widths[i]-0.5))
				x += widths[i]
			}
		}})
	}
	for _, row := range k.Rows {
		out = append(out, t.rowOf(row, widths))
	}
	return out
}

// rowOf is one row: a line under it, boxes where there is room to write.
func (t *setter) rowOf(row []Cell, widths []float64) piece {
	cells, most := make([][]string, len(row)), 1
	for i, c := range row {
		t.font(c.Bold, body)
		cells[i] = t.lines(c.Text, widths[i]-gap+0.01)
		most = max(most, len(cells[i]))
	}
	more := line * float64(most-1)
	return piece{tall: t.row + more, row: true, draw: func(y float64) {
		x := margin
		for i, c := range row {
			t.font(c.Bold, body)
			for n, words := range cells[i] {
				t.text(x, y+t.row/2+1.3+line*float64(n), words)
			}
			for n, label := range c.Write {
				w := (widths[i] - 1) / float64(len(c.Write))
				t.pdf.Rect(x+w*float64(n), y+0.3, w-1.2, t.row-0.6, "D")
				t.font(false, tiny)
				t.text(x+w*float64(n)+0.6, y+2.6, t.cut(label, w-2))
			}
			x += widths[i]
		}
		t.pdf.SetLineWidth(0.1)
		t.pdf.Line(margin, y+t.row+more, margin+t.wide, y+t.row+more)
		t.pdf.SetLineWidth(0.2)
	}}
}
