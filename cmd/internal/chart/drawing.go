package chart

import (
	"bytes"
	"regexp"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Drawing is a figure that can be drawn in any of Formats. It is as wide as
// its kin: a page of A4 or Letter between its margins.
type Drawing struct {
	Title  string // what it shows, in a line
	Height vg.Length
	Width  vg.Length
	draw   func(c *sheet) // with its title in the first titleRoom from the top
}

// usualWidth is that of most drawings.
const usualWidth = 17 * vg.Centimeter

// Render draws it in one of Formats.
func (d Drawing) Render(format string) ([]byte, error) {
	w, err := canvas(d.Width, d.Height, format)
	if err != nil {
		return nil, err
	}
	d.draw(&sheet{Canvas: draw.NewCanvas(w, d.Width, d.Height)})
	return written(w, format)
}

func canvas(width, height vg.Length, format string) (vg.CanvasWriterTo, error) {
	if format == "pdf" {
		return newPage(width, height)
	}
	return draw.NewFormattedCanvas(width, height, format)
}

// untitledRoom is what is left of titleRoom where there is no title.
const untitledRoom = 6

// Untitled draws it as SVG for a page that says itself what it shows.
func (d Drawing) Untitled() ([]byte, error) {
	w, err := draw.NewFormattedCanvas(d.Width, d.Height-titleRoom+untitledRoom, "svg")
	if err != nil {
		return nil, err
	}
	d.draw(&sheet{Canvas: draw.NewCanvas(w, d.Width, d.Height), untitled: true})
	return written(w, "svg")
}

// written is what a canvas has come to.
func written(w vg.CanvasWriterTo, format string) ([]byte, error) {
	var out bytes.Buffer
	_, err := w.WriteTo(&out)
	if format == "svg" {
		return anyFont(out.Bytes()), err
	}
	return out.Bytes(), err
}

// anyFont names fonts that stand in where ours is not there. They are as wide.
func anyFont(svg []byte) []byte {
	return regexp.MustCompile(`font-family:Liberation (Sans|Serif);`).ReplaceAllFunc(svg, func(name []byte) []byte {
		if bytes.Contains(name, []byte("Serif")) {
			return []byte(`font-family:'Liberation Serif','Times New Roman',Times,serif;`)
		}
		return []byte(`font-family:'Liberation Sans',Arial,Helvetica,sans-serif;`)
	})
}

// between is the room between drawings that stand on one another.
const between = 10 * vg.Millimeter

// Stacked are drawings on one another, the first on top.
func Stacked(title string, all []Drawing) Drawing {
	d := Drawing{Title: title}
	for n, one := range all {
		d.Width = max(d.Width, one.Width)
		d.Height += one.Height
		if n > 0 {
			d.Height += between
		}
	}
	d.draw = func(c *sheet) {
		top := c.Max.Y
		for _, one := range all {
			part := *c
			part.Max = vg.Point{X: c.Min.X + one.Width, Y: top}
			part.Min.Y = top - one.Height
			one.draw(&part)
			top = part.Min.Y - between
		}
	}
	return d
}
