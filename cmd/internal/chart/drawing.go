package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"leastmove/cmd/internal/words"
)

// A Drawing is a figure that can be drawn in any of Formats. It is as wide as
// its kin: a page of A4 or Letter between its margins.
type Drawing struct {
	Title  string // what it shows, in a line
	Desc   string // its numbers in words, for those who do not see it
	Height vg.Length
	Width  vg.Length
	narrow *Drawing       // the same for a narrow screen; nil: there is none
	parts  []Drawing      // the same in parts below one another, each whole on paper; nil: it is one
	draw   func(c *sheet) // with its title in the first titleRoom from the top
}

// usualWidth is that of most drawings.
const usualWidth = 17 * vg.Centimeter

// UsualDPI are the dots per inch of a PNG: 2,007 dots for the usual width.
const UsualDPI = 300

// leastLetter is the smallest height of letters in points that a figure by itself has: our judgement. A figure that
// would have smaller ones is drawn as for a narrow screen; LeastWidth is that, in whole mm, at which those have it too.
const (
	leastLetter = 4.5
	LeastWidth  = 55 // phoneWidth × leastLetter / small = 154.3 points = 54.4 mm
)

// A Size is how large a figure is made.
type Size struct {
	Width float64 // mm; 0: the usual width, 170
	DPI   int     // dots per inch of a PNG; 0: UsualDPI
}

// Sized draws it in one of Formats. Letters grow and shrink with the width.
func (d Drawing) Sized(format string, size Size) ([]byte, error) {
	by, dpi := 1.0, size.DPI
	if size.Width > 0 {
		width := vg.Length(size.Width) * vg.Millimeter
		if d.narrow != nil && small*width/d.Width < leastLetter {
			d = *d.narrow
		}
		by = float64(width / d.Width)
	}
	if dpi == 0 {
		dpi = UsualDPI
	}
	w, err := canvas(d.Width*vg.Length(by), d.Height*vg.Length(by), format, dpi)
	if err != nil {
		return nil, err
	}
	if by != 1 {
		w.Scale(by, by)
	}
	d.draw(&sheet{Canvas: draw.NewCanvas(w, d.Width, d.Height)})
	var out bytes.Buffer
	if _, err = w.WriteTo(&out); err != nil {
		return nil, err
	}
	switch format {
	case "svg":
		return titled(presented(out.Bytes()), d.Title, d.Desc), nil
	case "png":
		return withDPI(out.Bytes(), dpi), nil
	}
	return out.Bytes(), nil
}

func canvas(width, height vg.Length, format string, dpi int) (vg.CanvasWriterTo, error) {
	switch format {
	case "pdf":
		return newPage(width, height)
	case "png":
		return vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dpi))}, nil
	case "svg":
		return vgsvg.New(width, height), nil
	}
	return nil, fmt.Errorf("no figure is drawn as %q", format)
}

// untitledRoom is what is left of titleRoom where there is no title.
const untitledRoom = 6

// Untitled draws it as SVG for a page that says itself what it shows.
func (d Drawing) Untitled() ([]byte, error) {
	w := vgsvg.New(d.Width, d.Height-titleRoom+untitledRoom)
	d.draw(&sheet{Canvas: draw.NewCanvas(w, d.Width, d.Height), untitled: true})
	var out bytes.Buffer
	_, err := w.WriteTo(&out)
	return presented(out.Bytes()), err
}

// untitledPNG draws it as PNG for paper that says itself what it shows.
func (d Drawing) untitledPNG() ([]byte, error) {
	w := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(d.Width, d.Height-titleRoom+untitledRoom),
		vgimg.UseDPI(UsualDPI))}
	d.draw(&sheet{Canvas: draw.NewCanvas(w, d.Width, d.Height), untitled: true})
	var out bytes.Buffer
	_, err := w.WriteTo(&out)
	return out.Bytes(), err
}

// presented has ink, lines and type as attributes of their own: a page whose policy forbids styles within it
// draws them too. Fonts that are as wide stand in where ours is not there.
func presented(svg []byte) []byte {
	var out bytes.Buffer
	for {
		before, rest, found := bytes.Cut(svg, []byte(`style="`))
		out.Write(before)
		if !found {
			break
		}
		style, after, _ := bytes.Cut(rest, []byte(`"`))
		svg = after
		for n, rule := range strings.Split(string(style), ";") {
			key, value, _ := strings.Cut(rule, ":")
			if value == "Liberation Sans" {
				value = "'Liberation Sans',Arial,Helvetica,sans-serif"
			}
			if n > 0 {
				out.WriteByte(' ')
			}
			fmt.Fprintf(&out, `%s="%s"`, key, value)
		}
	}
	return out.Bytes()
}

// titled says in an SVG what it shows.
func titled(svg []byte, title, desc string) []byte {
	var words bytes.Buffer
	words.WriteString("<title>")
	_ = xml.EscapeText(&words, []byte(title))
	words.WriteString("</title>\n")
	if desc != "" {
		words.WriteString("<desc>")
		_ = xml.EscapeText(&words, []byte(strings.TrimSpace(desc)))
		words.WriteString("</desc>\n")
	}
	end := regexp.MustCompile(`<svg[^>]*>\n?`).FindIndex(svg)
	return bytes.Join([][]byte{svg[:end[1]], words.Bytes(), svg[end[1]:]}, nil)
}

// Lines over a figure: the name of its train, and what is said of the plan.
const (
	trainRoom = 14
	planRoom  = 11
)

// Named is the figure under the name of its train and the words on its plan, as it stands by itself, in a letter say;
// "": it has none. Both are in its title and its description.
func (d Drawing) Named(train, plan string) Drawing {
	named, most := d, d.Width-8
	over, under := lines(large, train, most), lines(normal, plan, most)
	room := trainRoom*vg.Length(len(over)) + planRoom*vg.Length(len(under))
	if d.narrow != nil {
		below := d.narrow.headed().Named(train, plan)
		named.narrow = &below
	}
	if room == 0 {
		return named
	}
	if train != "" {
		named.Title = train + ": " + d.Title
	}
	if plan != "" {
		named.Title += " (" + plan + ")"
		named.Desc = words.Capital(plan) + ". " + d.Desc
	}
	named.Height = d.Height + room
	named.draw = func(c *sheet) {
		x, y := c.Min.X+4, c.Max.Y-2
		for _, line := range over {
			c.text(large, 0, -1, x, y, line)
			y -= trainRoom
		}
		for _, line := range under {
			c.text(normal, 0, -1, x, y, line)
			y -= planRoom
		}
		below := *c
		below.Max.Y -= room
		d.draw(&below)
	}
	return named
}

// headed is a narrow drawing with its title over it in as many lines as that takes.
func (d Drawing) headed() Drawing {
	title := lines(large, d.Title, d.Width-8)
	more := trainRoom * vg.Length(len(title)-1)
	out := d
	out.Height = d.Height + more
	out.draw = func(c *sheet) {
		c.lines(large, 0, -1, c.Min.X+4, c.Max.Y-2, trainRoom, title)
		below := *c
		below.Max.Y -= more
		below.untitled = true
		d.draw(&below)
	}
	return out
}

// lines are words in as many lines of a width as they take; none of "".
func lines(size float64, words string, most vg.Length) []string {
	if words == "" {
		return nil
	}
	return folded(size, words, most, math.MaxInt)
}

// Alone are all drawings of a figure on one another, under the title that they have in common.
func Alone(all []Drawing) Drawing {
	title := all[0].Title
	for _, d := range all[1:] {
		for !strings.HasPrefix(d.Title, title) {
			title = title[:strings.LastIndex(title, ", ")]
		}
	}
	return Stacked(title, all)
}

// between is the room between drawings that stand on one another.
const between = 10 * vg.Millimeter

// Stacked are drawings on one another, the first on top; a title of one that is that of all stands over the first
// alone.
func Stacked(title string, all []Drawing) Drawing {
	d := Drawing{Title: title}
	var descs []string
	for n, one := range all {
		d.Width = max(d.Width, one.Width)
		d.Height += one.Height
		if n > 0 {
			d.Height += between
		}
		if n == 0 || one.Desc != all[0].Desc {
			descs = append(descs, one.Desc)
		}
	}
	d.Desc = strings.Join(descs, " ")
	if !slices.ContainsFunc(all, func(one Drawing) bool { return one.narrow == nil }) {
		var narrow []Drawing
		for _, one := range all {
			narrow = append(narrow, *one.narrow)
		}
		below := Stacked(title, narrow)
		d.narrow = &below
	}
	d.draw = func(c *sheet) {
		top := c.Max.Y
		for n, one := range all {
			part := *c
			part.untitled = c.untitled || n > 0 && one.Title == title
			part.Max = vg.Point{X: c.Min.X + one.Width, Y: top}
			part.Min.Y = top - one.Height
			one.draw(&part)
			top = part.Min.Y - between
		}
	}
	return d
}
