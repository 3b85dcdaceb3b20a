package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// survey is a section on the points of a survey; false where there are none.
func (p *page) survey(s formatter, survey *view.Survey) bool {
	if survey == nil {
		return false
	}
	p.Heading("Survey")
	p.Say(fmt.Sprintf("In %s and mrad, stations of the machines in %s; up and left as measured, in one frame for the "+
		"whole train. Residual: from the line through the points of the shaft; all shafts of a machine have one slope. "+
		"After ±: half of the interval that holds 95 times in 100.", s.MoveUnit(), s.LengthUnit()))
	for n := range survey.Shafts {
		shaft := &survey.Shafts[n]
		l := shaft.Line
		p.Space()
		g := s.points(shaft)
		g.Caption = s.Shaft(shaft.Shaft)
		p.Table(g)
		p.SayIn(fmt.Sprintf("In the middle of the points, x = %s in the train, it lies within ± %s, and its slope "+
			"within ± %s.",
			s.StationAbout(l.X), s.half(l.Half.Offset, s.MoveUnit()), s.halfAngle(l.Half.Angle)))
	}
	p.Space()
	p.Say(s.accuracy(&survey.Accuracy, "figure"))
	if survey.Read {
		p.Space()
		p.Say("Where a coupling was read too, what was read there counts: both of its shafts were turned together, and " +
			"the dials were nearer. The survey gives the others, and is held against the readings.")
	}
	for k := range survey.Between {
		p.Space()
		p.between(s, &survey.Between[k])
	}
	p.rounds(s, survey)
	if len(survey.Failed) == 0 {
		p.Space()
		p.Say("No check of the survey failed.")
	}
	for i, check := range survey.Failed {
		if i == 0 {
			p.Space()
		}
		p.Item("check failed: " + words.Clean(check.Message) + "; " + words.Clean(check.Hint))
	}
	return true
}

// half is a half-width in words.
func (s formatter) half(mm float64, unit string) string {
	if n := s.Offset(mm); n != "" {
		return words.With(n, unit)
	}
	return "?"
}

func (s formatter) halfAngle(mrad float64) string {
	if n := s.Angle(mrad); n != "" {
		return words.With(n, "mrad")
	}
	return "?"
}

// points are those of one shaft.
func (s formatter) points(shaft *view.SurveyedShaft) doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Number("x"), doc.Number("up"), doc.Number("left"), doc.Number("residual, up"),
		doc.Number("residual, left"),
	}}
	for _, point := range shaft.Points {
		g.Add(s.Station(point.X), string(s.Offset(point.V)), string(s.Offset(point.H)),
			string(s.Offset(point.OffV)), string(s.Offset(point.OffH)))
	}
	return g
}

// between is one coupling as the survey has it.
func (p *page) between(s formatter, b *view.SurveyedCoupling) {
	text := s.against(b.Coupling) + ", at x = " + s.Station(b.X)
	for _, l := range b.Lent {
		text += fmt.Sprintf("; the line of %s is that of %s, moved by their y and z", s.Shaft(l.Shaft), s.Shaft(l.From))
	}
	p.Say(text)
	good := func(words string, half words.Number) string {
		if half == "" {
			return words + " ± ?"
		}
		return words + " ± " + string(half)
	}
	g := doc.Table{Columns: []doc.Column{doc.Fixed(""), doc.Fixed(""), doc.Fixed("offset"), doc.Fixed("angle")}}
	cell := func(print func(float64) words.Number, x, half float64, plus, minus string) string {
		return good(words.Signed(print, x, plus, minus), print(half))
	}
	both := func(what string, m view.Misalignment, half view.Tilt) {
		g.Add(what, "up and down\nsideways",
			cell(s.Offset, m.V.Offset, half.Offset, "%s high", "%s low")+"\n"+cell(s.Offset, m.H.Offset, half.Offset,
				"%s left", "%s right"),
			cell(s.Angle, m.V.Angle, half.Angle, "slopes up %s", "slopes down %s")+"\n"+cell(s.Angle, m.H.Angle, half.Angle,
				"points left %s", "points right %s"))
	}
	both("survey", b.Found, b.Half)
	if b.Read {
		both("survey less "+readAs(b), b.Apart, b.Error)
	}
	p.Table(g)
	if !b.Read && !math.IsNaN(b.Far) {
		p.SayIn(fmt.Sprintf("Found by the survey; at the farthest foot within ± %s.", s.half(b.Far, s.MoveUnit())))
	}
}

// readAs is what a survey is held against at a coupling.
func readAs(b *view.SurveyedCoupling) string {
	if b.Dials {
		return "readings"
	}
	return "what is given"
}

// rounds are the sums round the train.
func (p *page) rounds(s formatter, survey *view.Survey) {
	if len(survey.Around) == 0 {
		return
	}
	p.Space()
	p.Say("Sum round the train: along it by what was read at the couplings, and back by the survey. Without errors " +
		"nothing is left.")
	for _, r := range survey.Around {
		expected := "how much the errors explain is not known"
		if n := s.Offset(r.Error.Offset); n != "" {
			expected = fmt.Sprintf("the errors of points and readings explain up to %s and %s mrad each way",
				words.With(n, s.MoveUnit()), s.Angle(r.Error.Angle))
		}
		p.Item(fmt.Sprintf("from coupling \"%s\" to coupling \"%s\", at x = %s: up and down %s, sideways %s are left; %s. %s",
			s.Coupling(r.First), s.Coupling(r.Last), s.Station(r.X),
			s.High(r.V), s.Aside(r.H), expected, s.meaning(&r)))
	}
}

// meaning says what a closure error says.
func (s formatter) meaning(r *view.SurveyedAround) string {
	switch r.Agreement {
	case view.Disagree:
		return fmt.Sprintf("That is over %s: points or readings are off by more than their errors. The coupling that "+
			"differs most is where to measure again.", words.With(s.Offset(r.Limit), s.MoveUnit()))
	case view.AgreeByErrors:
		return "The two agree as well as their errors let expect."
	}
	return fmt.Sprintf("The two agree to within %s.", words.With(s.Offset(r.Limit), s.MoveUnit()))
}
