package chart

import "gonum.org/v1/plot/vg"

// A rowDrawing draws rows below each other.
type rowDrawing interface {
	desc() string
	height() vg.Length
	draw(c *sheet, title string)
}

// paged spreads rows over drawings, each with at most as many as fit on a sheet of paper; on paper one goes on in parts
// of at most few rows, each under its head. part is what draws some of the rows, over the legend or not, and narrow is
// that for a narrow screen.
func paged[R any](title string, rows []R, most, few int, part func(rows []R, legend bool) rowDrawing,
	narrow func(rows []R) rowDrawing) []Drawing {
	var out []Drawing
	for n, some := range chunks(rows, most) {
		said := title
		if n > 0 {
			said += ", continued"
		}
		drawing := func(d rowDrawing, width vg.Length) Drawing {
			return Drawing{Title: said, Desc: d.desc(), Width: width, Height: d.height(),
				draw: func(c *sheet) { d.draw(c, said) }}
		}
		d, below := drawing(part(some, true), usualWidth), drawing(narrow(some), phoneWidth)
		d.narrow = &below
		parts := chunks(some, few)
		for k, few := range parts {
			d.parts = append(d.parts, drawing(part(few, k == len(parts)-1), usualWidth))
		}
		out = append(out, d)
	}
	return out
}

// chunks are rows in as few parts of at most so many as there can be, of about as many rows each, so that none has a
// row by itself.
func chunks[R any](rows []R, most int) [][]R {
	var out [][]R
	parts := (len(rows) + most - 1) / most
	for n := range parts {
		out = append(out, rows[n*len(rows)/parts:(n+1)*len(rows)/parts])
	}
	return out
}
