package chart

import (
	"bytes"
	"image"
	"image/color"
	"io"
	"math"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/glyphs"
)

// A page is a canvas of one page of PDF. gonum's own writes the letters of one code
// page and garbles all others; this one embeds what is used of a font with Latin,
// Greek and Cyrillic letters.
type page struct {
	pdf           *fpdf.Fpdf
	width, height vg.Length
	cover         *glyphs.Cover
	line          []vg.Length // width of lines, as pushed
}

func newPage(width, height vg.Length) (*page, error) {
	cover, err := glyphs.Covering(liberationsansregular.TTF)
	if err != nil {
		return nil, err
	}
	p := &page{
		pdf:   fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: width.Points(), Ht: height.Points()}}),
		width: width, height: height, cover: cover, line: make([]vg.Length, 1),
	}
	// The same figure is the same bytes: no time of day, and tables in order.
	epoch := time.Unix(0, 0).UTC()
	p.pdf.SetCreationDate(epoch)
	p.pdf.SetModificationDate(epoch)
	p.pdf.SetCatalogSort(true)
	p.pdf.SetProducer("leastmove", true)
	p.pdf.SetMargins(0, 0, 0)
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	p.pdf.AddPage()
	// The library counts down from the top of the page, a canvas up from its foot.
	p.Push()
	p.Translate(vg.Point{Y: height})
	p.Scale(1, -1)
	vg.Initialize(p)
	return p, nil
}

// Size is that of the page.
func (p *page) Size() (width, height vg.Length) { return p.width, p.height }

// SetLineWidth sets how wide lines are drawn from here on.
func (p *page) SetLineWidth(w vg.Length) {
	p.line[len(p.line)-1] = w
	p.pdf.SetLineWidth(w.Points())
}

// SetLineDash sets lengths of dashes and gaps in turn.
func (p *page) SetLineDash(dashes []vg.Length, offset vg.Length) {
	points := make([]float64, len(dashes))
	for i, d := range dashes {
		points[i] = d.Points()
	}
	p.pdf.SetDashPattern(points, offset.Points())
}

// SetColor sets that of lines, areas and letters. All are opaque.
func (p *page) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	r, g, b, _ := c.RGBA()
	p.pdf.SetFillColor(int(r>>8), int(g>>8), int(b>>8))
	p.pdf.SetDrawColor(int(r>>8), int(g>>8), int(b>>8))
	p.pdf.SetTextColor(int(r>>8), int(g>>8), int(b>>8))
}

// Rotate, Translate and Scale change where what follows is drawn, until Pop.
func (p *page) Rotate(radians float64)   { p.pdf.TransformRotate(-radians*180/math.Pi, 0, 0) }
func (p *page) Translate(by vg.Point)    { p.pdf.TransformTranslate(by.X.Points(), by.Y.Points()) }
func (p *page) Scale(across, up float64) { p.pdf.TransformScale(100*across, 100*up, 0, 0) }

// Push keeps what was set so far for Pop.
func (p *page) Push() {
	p.line = append(p.line, p.line[len(p.line)-1])
	p.pdf.TransformBegin()
}

// Pop goes back to what was set before Push.
func (p *page) Pop() {
	p.pdf.TransformEnd()
	p.line = p.line[:len(p.line)-1]
}

// Stroke draws a line.
func (p *page) Stroke(path vg.Path) {
	if p.line[len(p.line)-1] > 0 {
		p.path(path, "D")
	}
}

// Fill fills an area.
func (p *page) Fill(path vg.Path) { p.path(path, "F") }

func (p *page) path(path vg.Path, style string) {
	var start vg.Point
	for _, c := range path {
		x, y := c.Pos.X.Points(), c.Pos.Y.Points()
		switch c.Type {
		case vg.MoveComp:
			start = c.Pos
			p.pdf.MoveTo(x, y)
		case vg.LineComp:
			p.pdf.LineTo(x, y)
		case vg.ArcComp:
			p.arc(c)
		case vg.CloseComp:
			p.pdf.LineTo(start.X.Points(), start.Y.Points())
			p.pdf.ClosePath()
		default:
			panic("chart: no figure has a curve but arcs")
		}
	}
	p.pdf.DrawPath(style)
}

// arc is a line to the start of an arc, and the arc, by cubic curves of at most a
// quarter of a circle: each is off by less than 0.03 % of the radius.
func (p *page) arc(c vg.PathComp) {
	pieces := math.Ceil(math.Abs(c.Angle) / (math.Pi / 2))
	step := c.Angle / pieces
	reach := 4. / 3 * math.Tan(step/4)
	x, y, r := c.Pos.X.Points(), c.Pos.Y.Points(), c.Radius.Points()
	sin, cos := math.Sincos(c.Start)
	p.pdf.LineTo(x+r*cos, y+r*sin)
	for n := range int(pieces) {
		sin0, cos0 := math.Sincos(c.Start + step*float64(n))
		sin1, cos1 := math.Sincos(c.Start + step*float64(n+1))
		p.pdf.CurveBezierCubicTo(
			x+r*(cos0-reach*sin0), y+r*(sin0+reach*cos0),
			x+r*(cos1+reach*sin1), y+r*(sin1-reach*cos1),
			x+r*cos1, y+r*sin1)
	}
}

// FillString writes a line of text from a point on. A letter that the font does not
// have is replaced by a mark.
func (p *page) FillString(f font.Face, at vg.Point, words string) {
	p.pdf.SetFont("sans", "", f.Font.Size.Points())
	p.Push()
	defer p.Pop()
	p.Translate(at)
	p.Scale(1, -1)
	p.pdf.Text(0, 0, glyphs.Visual(p.cover.Shown(words)))
}

// DrawImage is for pictures made of dots, which no figure has.
func (p *page) DrawImage(vg.Rectangle, image.Image) { panic("chart: no figure has a picture in it") }

// WriteTo writes the page, which is not drawn on after that.
func (p *page) WriteTo(w io.Writer) (int64, error) {
	p.Pop()
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		return 0, err
	}
	return out.WriteTo(w)
}
