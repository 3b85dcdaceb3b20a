package chart

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
)

// Sizes of the drawing of the feet, in points.
const (
	feetWidth   = 19 * vg.Centimeter
	feetInRow   = 6  // machines in a row
	feetNarrow  = 3  // on a narrow screen
	feetLetters = 11 // size
	feetHalf    = 20 // half of a machine's width across the train
	feetLine    = 13 // from line to line of a name
	feetBeyond  = 17 // room beyond a machine's edge for the numbers
	feetNote    = 12 // a line under all rows, for what marks mean
)

// FeetFromAbove is the train from above for a sheet, with its feet numbered as on its pages: which foot is which, and
// which are moved. It has no moves.
func FeetFromAbove(f *view.Figures) (*doc.Figure, error) {
	d, narrow := feetFromAbove(f, feetWidth, feetInRow), feetFromAbove(f, phoneWidth, feetNarrow)
	svg, err := d.Untitled()
	if err != nil {
		return nil, err
	}
	phone, err := narrow.Untitled()
	if err != nil {
		return nil, err
	}
	png, err := d.untitledPNG()
	if err != nil {
		return nil, err
	}
	return &doc.Figure{Anchor: "feet", Title: d.Title, Alt: d.Desc, SVG: [][]byte{svg}, Narrow: phone, PNG: png}, nil
}

// A feetFigure is the drawing under way.
type feetFigure struct {
	*movesFigure
	named int // lines of the longest name
}

// feetFromAbove has at most so many machines in a row.
func feetFromAbove(f *view.Figures, width vg.Length, inRow int) Drawing {
	m := &movesFigure{Figures: f, words: namesOf(f), across: min(inRow, len(f.Train.Machines)), width: width}
	all := &feetFigure{movesFigure: m}
	for i := range f.Train.Machines {
		all.named = max(all.named, len(all.nameOf(i)))
	}
	rows := (len(f.Train.Machines) + m.across - 1) / m.across
	return Drawing{Title: "The train from above, its feet numbered", Desc: all.desc(), Width: width,
		Height: titleRoom + vg.Length(rows)*all.rowHeight() + 4 + feetNote*vg.Length(len(all.note())), draw: all.draw}
}

func (a *feetFigure) rowHeight() vg.Length {
	return feetLine*vg.Length(a.named) + 2*feetBeyond + 2*feetHalf + 6
}

// nameOf is a machine's name in lines.
func (a *feetFigure) nameOf(i int) []string { return a.movesFigure.named(i, feetLetters, 6) }

// moves says whether something is done at a foot.
func (a *feetFigure) moves(i, f int) bool { return len(a.said(i, f)) > 0 }

func (a *feetFigure) draw(c *sheet) {
	c.title("The train from above, its feet numbered")
	y := c.Max.Y - titleRoom
	for from := 0; from < len(a.Train.Machines); from += a.across {
		middle := y - feetLine*vg.Length(a.named) - feetBeyond - feetHalf
		for i := from; i < min(from+a.across, len(a.Train.Machines)); i++ {
			a.one(c, i, middle, y)
		}
		y -= a.rowHeight()
	}
	c.notes(feetLetters-1, 4, 3, feetNote, a.note())
}

// note is what marks mean, in lines.
func (a *feetFigure) note() []string {
	left := "left"
	if a.words.OwnSides() {
		left += " (" + short(feetLetters, a.words.left(), 100) + ")"
	}
	words := "Left" + strings.TrimPrefix(left, "left") + " is at the top. White feet are worked on, grey feet stay"
	for i := range a.Train.Machines {
		if a.Train.Machines[i].Hold {
			words += ", hatched machines are held"
			break
		}
	}
	return lines(feetLetters-1, words+".", a.width-8)
}

// one is a machine: its outline, its feet, and beside each its number.
func (a *feetFigure) one(c *sheet, i int, y, top vg.Length) {
	x0, x1 := a.cell(i)
	c.lines(feetLetters, -0.5, -1, (x0+x1)/2, top, feetLine, a.nameOf(i))
	a.shaft(c, i, y)
	if a.Train.Machines[i].Hold {
		c.hatched(x0+boxInset, y-feetHalf, x1-boxInset, y+feetHalf)
	}
	c.box(outline(), x0+boxInset, y-feetHalf, x1-boxInset, y+feetHalf)
	taken := map[string]int{}
	for f := range a.Train.Machines[i].Feet {
		const half = 4
		x, edge, beside := a.at(i, f), y-feetHalf, vg.Length(-feetBeyond+1.5)
		if a.over(i, f) {
			edge, beside = y+feetHalf, 7
		}
		with := grey()
		if a.moves(i, f) {
			with = paper()
		}
		spot := fmt.Sprint(x, edge)
		x += vg.Length(taken[spot]) * (2*half + 3) // feet at one spot stand beside each other
		taken[spot]++
		c.fill(with, x-half, edge-half, x+half, edge+half)
		c.box(outline(), x-half, edge-half, x+half, edge+half)
		c.text(feetLetters, -0.5, 0, x, edge+beside, fmt.Sprint(view.FootNumber(a.Train, i, f)))
	}
}

// desc says which foot has which number.
func (a *feetFigure) desc() string {
	var all []string
	for i := range a.Train.Machines {
		for f := range a.Train.Machines[i].Feet {
			all = append(all, fmt.Sprintf("%d %s %s", view.FootNumber(a.Train, i, f), a.words.Machine(i), a.words.Foot(i, f)))
		}
	}
	return strings.Join(all, "; ") + "."
}
