package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// SurveyOf is what a survey comes to; nil where there is none.
func SurveyOf(w words.Formatter, survey *view.Survey) *Survey {
	if survey == nil {
		return nil
	}
	pair := func(m train.Misalignment) Half { return Half{V: tiltOf(w, m.V), H: tiltOf(w, m.H)} }
	doc := &Survey{
		Spare: survey.Freedom, Scatter: w.Offset(survey.Scatter),
		Lines: []Line{}, Couplings: []Between{}, Rounds: []Round{}, Checks: []FailedPoint{},
	}
	for _, s := range survey.Shafts {
		l := s.Line
		d := Line{
			Shaft: w.Shaft(s.Shaft), X: w.Length(l.X),
			V:    Tilt{Offset: w.Offset(l.V), Angle: w.Angle(l.SlopeV)},
			H:    Tilt{Offset: w.Offset(l.H), Angle: w.Angle(l.SlopeH)},
			Half: tiltOf(w, l.Half),
		}
		for _, p := range s.Points {
			d.Points = append(d.Points, Point{
				X: w.Length(p.X), V: w.Offset(p.V), H: w.Offset(p.H), OffV: w.Offset(p.OffV), OffH: w.Offset(p.OffH),
			})
		}
		doc.Lines = append(doc.Lines, d)
	}
	for _, b := range survey.Between {
		d := Between{
			Name: w.Coupling(b.Coupling), Used: !b.Read, Found: pair(b.Found), Half: tiltOf(w, b.Half), Far: w.Offset(b.Far),
		}
		if b.Read {
			apart, expected := pair(b.Apart), tiltOf(w, b.Error)
			d.Apart, d.Expected = &apart, &expected
		}
		doc.Couplings = append(doc.Couplings, d)
	}
	for _, r := range survey.Around {
		doc.Rounds = append(doc.Rounds, Round{
			First: w.Coupling(r.First), Last: w.Coupling(r.Last), X: w.Length(r.X),
			V: tiltOf(w, r.V), H: tiltOf(w, r.H), Expected: tiltOf(w, r.Error),
		})
	}
	for _, k := range survey.Failed {
		d := FailedPoint{Kind: k.Kind.String(), Size: w.Offset(k.Size), Limit: w.Offset(k.Limit),
			Text: words.Clean(k.Message)}
		if k.Angular {
			d.Size, d.Limit = w.Angle(k.Size), w.Angle(k.Limit)
		}
		doc.Checks = append(doc.Checks, d)
	}
	return doc
}
