package pages

import (
	"fmt"
	"math"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/readings"
)

// survey is a section on the points of a survey; false where there are none.
func (p *page) survey(s formatter) bool {
	survey := s.Train.Survey
	if survey == nil {
		return false
	}
	p.Heading("Survey")
	p.Say(fmt.Sprintf("In %s and mrad, stations of the machines in %s; up and left as measured, in one frame for the whole train. Off: from the line through the points of the shaft; all shafts of a machine have one slope. After ±: half of the interval that holds 95 times in 100.", s.MoveUnit(), s.LengthUnit()))
	for _, l := range survey.Lines {
		p.Space()
		g := s.points(&l)
		g.Caption = s.Shaft(train.End{Machine: l.Machine, Shaft: l.Shaft})
		p.Table(g)
		p.SayIn(fmt.Sprintf("In the middle of the points, x = %s in the train, it lies within ± %s, and its slope within ± %s.",
			s.Station(math.Round(l.X)), s.half(l.Half.Offset, s.MoveUnit()), s.halfAngle(l.Half.Angle)))
	}
	p.Space()
	p.Say(surveyBasis(s, survey))
	if slices.ContainsFunc(survey.Couplings, func(b train.SurveyCoupling) bool { return b.Read }) {
		p.Space()
		p.Say("Where a coupling was read too, what was read there counts: both of its shafts were turned together, and the dials were nearer. The survey gives the others, and is held against the readings.")
	}
	for k := range survey.Couplings {
		p.Space()
		p.between(s, &survey.Couplings[k])
	}
	p.rounds(s, survey)
	if len(survey.Checks) == 0 {
		p.Space()
		p.Say("No check of the survey failed.")
	}
	for i, check := range survey.Checks {
		if i == 0 {
			p.Space()
		}
		message, hint := readings.SurveyWords(s.Train, check)
		p.Item("check failed: " + words.Clean(message) + "; " + words.Clean(hint))
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
func (s formatter) points(l *train.SurveyLine) doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Number("x"), doc.Number("up"), doc.Number("left"), doc.Number("off, up"),
		doc.Number("off, left"),
	}}
	for k, i := range l.Points {
		point := &s.Train.Machines[l.Machine].Points[i]
		g.Add(s.Station(point.X), string(s.Offset(point.V)), string(s.Offset(point.H)),
			string(s.Offset(l.OffV[k])), string(s.Offset(l.OffH[k])))
	}
	return g
}

// surveyBasis says what the errors are from.
func surveyBasis(s formatter, survey *train.Survey) string {
	switch survey.Basis {
	case train.BasisResiduals:
		return fmt.Sprintf("The errors are from what the points leave to their lines: %s more than there are unknowns, standard error of one %s.",
			words.Plural(survey.Freedom, "figure"), words.With(s.Offset(survey.Scatter), s.MoveUnit()))
	case train.BasisStated:
		return "The errors are those stated for the points."
	case train.BasisGiven:
		return "As many figures as unknowns: the errors are those of [errors]."
	}
	return "As many figures as unknowns, and no errors stated: how good this is is not known."
}

// between is one coupling as the survey has it.
func (p *page) between(s formatter, b *train.SurveyCoupling) {
	c := &s.Train.Couplings[b.Coupling]
	text := s.against(b.Coupling) + ", at x = " + s.Station(c.X)
	for k, e := range [...]train.End{c.From, c.To} {
		if b.Lent[k] >= 0 {
			text += fmt.Sprintf("; the line of %s is that of %s, moved by their y and z", s.Shaft(e), s.Shaft(train.End{Machine: e.Machine, Shaft: b.Lent[k]}))
		}
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
	both := func(what string, m train.Misalignment, half train.Tilt) {
		g.Add(what, "up and down\nsideways",
			cell(s.Offset, m.V.Offset, half.Offset, "%s high", "%s low")+"\n"+cell(s.Offset, m.H.Offset, half.Offset, "%s left", "%s right"),
			cell(s.Angle, m.V.Angle, half.Angle, "climbs %s", "falls %s")+"\n"+cell(s.Angle, m.H.Angle, half.Angle, "turns left %s", "turns right %s"))
	}
	both("survey", b.Found, b.Half)
	if b.Read {
		both("survey less "+s.readAs(c), b.Apart, b.Error)
	}
	p.Table(g)
	if !b.Read && !math.IsNaN(b.Far) {
		p.SayIn(fmt.Sprintf("Found by the survey; at the farthest foot within ± %s.", s.half(b.Far, s.MoveUnit())))
	}
}

// readAs is what a survey is held against at a coupling.
func (s formatter) readAs(c *train.Coupling) string {
	if len(c.Dials) > 0 {
		return "readings"
	}
	return "what is given"
}

// rounds are the sums round the train.
func (p *page) rounds(s formatter, survey *train.Survey) {
	if len(survey.Closures) == 0 {
		return
	}
	p.Space()
	p.Say("Sum round the train: along it by what was read at the couplings, and back by the survey. Without errors nothing is left.")
	for _, r := range survey.Closures {
		expected := "how much the errors explain is not known"
		if n := s.Offset(r.Error.Offset); n != "" {
			expected = fmt.Sprintf("the errors of points and readings explain up to %s and %s mrad each way", words.With(n, s.MoveUnit()), s.Angle(r.Error.Angle))
		}
		p.Item(fmt.Sprintf("from coupling %q to coupling %q, at x = %s: up and down %s, sideways %s are left; %s. %s", s.Coupling(r.First), s.Coupling(r.Last), s.Station(r.X),
			s.High(r.V), s.Aside(r.H), expected, s.meaning(&r)))
	}
}

// meaning says what a sum round the train comes to.
func (s formatter) meaning(r *train.Closure) string {
	size, limit := math.Hypot(r.V.Offset, r.H.Offset), s.Train.Checks.Survey
	if r.Error.Offset > limit {
		limit = r.Error.Offset
	}
	switch {
	case size > limit:
		return fmt.Sprintf("That is over %s: points or readings are off by more than their errors. The coupling that differs most is where to measure again.", words.With(s.Offset(limit), s.MoveUnit()))
	case size <= r.Error.Offset:
		return "The two agree as well as their errors let expect."
	}
	return fmt.Sprintf("The two agree to within %s.", words.With(s.Offset(limit), s.MoveUnit()))
}

// planjson.Survey is what a survey comes to; nil where there is none.
func (s formatter) surveyDoc() *planjson.Survey {
	survey := s.Train.Survey
	if survey == nil {
		return nil
	}
	tilt := func(t train.Tilt) planjson.Tilt {
		return planjson.Tilt{Offset: s.Offset(t.Offset), Angle: s.Angle(t.Angle)}
	}
	pair := func(m train.Misalignment) planjson.Half { return planjson.Half{V: tilt(m.V), H: tilt(m.H)} }
	doc := &planjson.Survey{Spare: survey.Freedom, Scatter: s.Offset(survey.Scatter), Lines: []planjson.Line{}, Couplings: []planjson.Between{}, Rounds: []planjson.Round{}, Checks: []planjson.FailedPoint{}}
	for i := range survey.Lines {
		l := &survey.Lines[i]
		d := planjson.Line{Shaft: s.Shaft(train.End{Machine: l.Machine, Shaft: l.Shaft}), X: s.Length(l.X),
			V: planjson.Tilt{Offset: s.Offset(l.V), Angle: s.Angle(l.SlopeV)},
			H: planjson.Tilt{Offset: s.Offset(l.H), Angle: s.Angle(l.SlopeH)}, Half: tilt(l.Half)}
		for k, n := range l.Points {
			point := &s.Train.Machines[l.Machine].Points[n]
			d.Points = append(d.Points, planjson.Point{X: s.Length(point.X), V: s.Offset(point.V), H: s.Offset(point.H), OffV: s.Offset(l.OffV[k]), OffH: s.Offset(l.OffH[k])})
		}
		doc.Lines = append(doc.Lines, d)
	}
	for i := range survey.Couplings {
		b := &survey.Couplings[i]
		d := planjson.Between{Name: s.Coupling(b.Coupling), Used: !b.Read, Found: pair(b.Found), Half: tilt(b.Half), Far: s.Offset(b.Far)}
		if b.Read {
			apart, expected := pair(b.Apart), tilt(b.Error)
			d.Apart, d.Expected = &apart, &expected
		}
		doc.Couplings = append(doc.Couplings, d)
	}
	for _, r := range survey.Closures {
		doc.Rounds = append(doc.Rounds, planjson.Round{First: s.Coupling(r.First), Last: s.Coupling(r.Last), X: s.Length(r.X),
			V: tilt(r.V), H: tilt(r.H), Expected: tilt(r.Error)})
	}
	for _, check := range survey.Checks {
		message, _ := readings.SurveyWords(s.Train, check)
		d := planjson.FailedPoint{Kind: check.Kind.String(), Size: s.Offset(check.Size), Limit: s.Offset(check.Limit), Text: words.Clean(message)}
		if check.Kind == train.CheckSurveyAngle {
			d.Size, d.Limit = s.Angle(check.Size), s.Angle(check.Limit)
		}
		doc.Checks = append(doc.Checks, d)
	}
	return doc
}
