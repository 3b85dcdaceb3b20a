package pages

import (
	"fmt"
	"io"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// ReadingsText writes what the readings of every coupling come to.
func ReadingsText(w io.Writer, c *view.Check, layout Page) error {
	p, s := &page{width: layout.width()}, formatterOf(c.Train)
	p.Doc.Title = s.Title()
	read := p.readings(s, c.Readings)
	if !p.survey(s, c.Survey) && !read {
		p.Space()
		p.Say("No coupling has readings: what was found was given as it is.")
	}
	p.cold(s, c.Cold)
	p.warnings(layout)
	return p.Doc.Text(w, p.width)
}

// readings is a section on every coupling that has them; false where none has.
func (p *page) readings(s formatter, all []*view.CouplingRead) bool {
	any, dials := false, 0
	for _, r := range all {
		if r != nil {
			dials += len(r.Dials)
		}
	}
	screen := s.Isolated && dials > mostDials
	for _, r := range all {
		if r == nil {
			continue
		}
		if !any {
			any = true
			p.Heading("Readings")
			if screen {
				p.Say("What each instrument read is on the screen, not on paper.")
			}
			p.Say(fmt.Sprintf("In %s and mrad. Corrected: without zero and sag, and without what true geometry adds where "+
				"a rim's radius is stated. Residual: what it is off all readings of the coupling together. Both shafts turned "+
				"together is what the sums assume; else runout is in them. After ±: half of the interval that holds 95 times "+
				"in 100.%s", s.MoveUnit(), bareFaces(all)))
		}
		p.Space()
		p.fit(s, r, screen)
	}
	return any
}

// bareFaces says that face dials without sag are taken as read, where there are any.
func bareFaces(all []*view.CouplingRead) string {
	for _, r := range all {
		if r == nil {
			continue
		}
		for k := range r.Dials {
			if d := r.Dials[k].Dial; d.Kind == view.FaceDial && math.IsNaN(d.Sag) {
				return " A face dial whose sag is not stated is taken as it reads: hang it on a sag bar."
			}
		}
	}
	return ""
}

// mostDials is the most instruments of which a printed report has what each read.
const mostDials = 16

// fit is what the readings of one coupling come to; what each instrument read may be left to the screen.
func (p *page) fit(s formatter, r *view.CouplingRead, screen bool) {
	fit := r.Fit
	p.Subheading(s.against(r.Coupling))
	for k := range r.Dials {
		d := &r.Dials[k]
		words := s.dial(r.Of, d.Dial)
		if r.Sets {
			words += fmt.Sprintf(", set %d", d.Dial.Set)
		}
		g := s.read(d)
		g.Caption, g.In, g.Screen = words, 1, screen
		p.Table(g)
	}
	g := s.comes(r)
	g.Caption, g.In = "found at x = "+s.Station(r.Of.X)+", and how far off at the farthest foot:", 1
	p.Table(g)
	p.SayIn(s.accuracy(&fit.Accuracy, "reading") +
		fmt.Sprintf(" How well their places fix it: %s (1 is best).", words.Fixed(fit.Condition, 1)))
	failed := &doc.List{In: 1}
	for _, check := range r.Failed {
		failed.Items = append(failed.Items, []string{"check failed: " + words.Clean(check.Message)})
	}
	if len(r.Failed) == 0 {
		p.SayIn("No check failed.")
		return
	}
	for _, slip := range r.Mistakes {
		failed.Items = append(failed.Items, []string{"all readings would agree if " + words.Clean(slip)})
	}
	p.Put(failed)
}

// read is one instrument, position by position.
func (s formatter) read(read *view.DialRead) doc.Table {
	d, r := read.Dial, read.Fit
	if read.Offsets() {
		g := doc.Table{Columns: []doc.Column{doc.Fixed(""), doc.Number("read"), doc.Number("residual")}}
		g.Add("up and down", string(s.Offset(d.V)), string(s.Offset(r.Residual[0])))
		g.Add("sideways", string(s.Offset(d.H)), string(s.Offset(r.Residual[1])))
		return g
	}
	g := doc.Table{Columns: []doc.Column{doc.Fixed("at"), doc.Number("read"), doc.Number("corrected"),
		doc.Number("residual")}}
	for i, angle := range d.Angles {
		g.Add(position(angle), string(s.Offset(d.Values[i])), string(s.Offset(r.Corrected[i])),
			string(s.Offset(r.Residual[i])))
	}
	if n := s.Offset(r.Ring); n != "" {
		g.Add("ring", string(n), "", "")
	}
	return g
}

// position is an angle as a clock has it where it has.
func position(degrees float64) string {
	if hour := degrees / 30; hour == math.Trunc(hour) && hour >= 0 && hour < 12 {
		if hour == 0 {
			hour = 12
		}
		return fmt.Sprintf("%.0f", hour)
	}
	return words.Fixed(degrees, 1).Short() + " degrees"
}

// comes is what all readings come to, with 95 % half-widths.
func (s formatter) comes(r *view.CouplingRead) doc.Table {
	fit := r.Fit
	g := doc.Table{Columns: []doc.Column{doc.Fixed(""), doc.Fixed("offset"), doc.Fixed("angle"), doc.Fixed("far foot")}}
	good := func(words string, half words.Number) string {
		if half == "" {
			return words + " ± ?"
		}
		return words + " ± " + string(half)
	}
	row := func(name string, found, half view.Tilt, far float64, high, low, plus, minus string) {
		g.Add(name,
			good(words.Signed(s.Offset, found.Offset, "%s "+high, "%s "+low), s.Offset(half.Offset)),
			good(words.Signed(s.Angle, found.Angle, plus+" %s", minus+" %s"), s.Angle(half.Angle)),
			strings.TrimSpace(good("", s.Offset(far))))
	}
	row("up and down", fit.Found.V, fit.Half.V, fit.FarV, "high", "low", "slopes up", "slopes down")
	row("sideways", fit.Found.H, fit.Half.H, fit.FarH, "left", "right", "points left", "points right")
	return g
}

// accuracy says what the errors of a fit are from; figure is one of what was read.
func (s formatter) accuracy(a *view.Accuracy, figure string) string {
	text := "The errors are those stated for each " + figure
	if a.Usual > 0 {
		text = fmt.Sprintf("Each %s whose error is not stated counts as good to %s (95 %%)", figure,
			words.With(s.Offset(a.Usual), s.MoveUnit()))
	}
	if a.Freedom == 0 {
		return text + "; as many " + figure + "s as unknowns: nothing checks that."
	}
	text += fmt.Sprintf("; the residuals (%s more than there are unknowns, standard error of one %s)",
		words.Plural(a.Freedom, figure), words.With(s.Offset(a.Scatter), s.MoveUnit()))
	if a.Spread > 1 {
		return text + fmt.Sprintf(" contradict that: all errors count %s times as large.", words.Fixed(a.Spread, 1))
	}
	return text + " agree with that."
}
