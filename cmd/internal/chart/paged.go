package chart

import "gonum.org/v1/plot/vg"

// A rowDrawing draws rows below each other.
type rowDrawing interface {
	desc() string
	height() vg.Length
	draw(c *sheet, title string)
}

// paged spreads rows over drawings, each with at most as many as fit on a sheet of paper; part is what draws some of
// them, and narrow is that for a narrow screen, nil: there is none.
func paged[R any](title string, rows []R, most int, part, narrow func(rows []R) rowDrawing) []Drawing {
	var out []Drawing
	parts := (len(rows) + most - 1) / most
	for n := range parts { // of about as many rows each, so that none has a row by itself
		from := n * len(rows) / parts
		some := rows[from : (n+1)*len(rows)/parts]
		d, said := part(some), title
		if from > 0 {
			said += ", continued"
		}
		out = append(out, Drawing{Title: said, Desc: d.desc(), Width: usualWidth, Height: d.height(),
			draw: func(c *sheet) { d.draw(c, said) }})
		if narrow != nil {
			d := narrow(some)
			out[len(out)-1].narrow = &Drawing{Title: said, Desc: d.desc(), Width: phoneWidth, Height: d.height(),
				draw: func(c *sheet) { d.draw(c, said) }}
		}
	}
	return out
}
