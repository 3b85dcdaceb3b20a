package chart

import "gonum.org/v1/plot/vg"

// A panel is one small drawing of a table of them.
type panel func(c *sheet, x, y vg.Length) // its upper left corner

// tallest is how high a table of panels is at most, so that it prints whole under
// a heading.
const tallest = 22 * vg.Centimeter

// tables set panels side by side under a title, over as many drawings as needed;
// below each goes a legend.
func tables(title string, panels []panel, across int, high vg.Length, legend func(c *sheet, y vg.Length)) []Drawing {
	const head, foot = titleRoom, 24
	most := max(1, int((tallest-head-foot)/high)) * across
	wide := usualWidth / vg.Length(across)
	var out []Drawing
	for from := 0; from < len(panels); from += most {
		part := panels[from:min(len(panels), from+most)]
		down := (len(part) + across - 1) / across
		words := title
		if from > 0 {
			words += ", continued"
		}
		out = append(out, Drawing{Title: words, Width: usualWidth, Height: head + vg.Length(down)*high + foot,
			draw: func(c *sheet) {
				c.title(words)
				for n, one := range part {
					one(c, c.Min.X+vg.Length(n%across)*wide, c.Max.Y-head-vg.Length(n/across)*high)
				}
				legend(c, c.Min.Y+10)
			}})
	}
	return out
}
