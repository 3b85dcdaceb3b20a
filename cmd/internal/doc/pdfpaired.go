package doc

import "strings"

// labelOf is what stays beside a row of a paired table.
func labelOf(c Cell) string {
	label, _, _ := strings.Cut(c.Text, "\n")
	return label
}

// aside is what stands above the rows of a paired table, of each with its label.
func (t *Table) aside() string {
	var all []string
	for _, row := range t.Rows {
		if strings.Contains(row[0].Text, "\n") {
			all = append(all, t.line(row[0]))
		}
	}
	return strings.Join(all, "; ")
}

// captionOver is a caption with what stands above the rows behind it where both fit on a line, else below it.
func (t *setter) captionOver(caption, above string) []piece {
	if caption == "" {
		return t.paragraph(above, 0, nil)
	}
	const apart = 4.0 // mm
	t.font(true, body)
	behind := t.pdf.GetStringWidth(caption) + apart
	t.font(false, body)
	if behind+t.pdf.GetStringWidth(above) > t.wide {
		return append(t.bold(caption), t.paragraph(above, 0, nil)...)
	}
	out := t.bold(caption)
	draw := out[0].draw
	out[0].draw = func(y float64) {
		draw(y)
		t.font(false, body)
		t.text(margin+behind, y+line-0.6, above)
	}
	return out
}
