package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// A Survey is what the points of a survey come to.
type Survey struct {
	Spare     int           `json:"spare" about:"count of figures beyond the unknowns"`
	Scatter   Number        `json:"scatter" about:"standard error of one figure by the residuals; null: none" unit:"move"`
	Lines     []Line        `json:"lines" about:"every shaft with points, as a line"`
	Couplings []Between     `json:"couplings" about:"every coupling between two such shafts"`
	Rounds    []Round       `json:"rounds" about:"closure errors along the train"`
	Checks    []FailedPoint `json:"checks" about:"checks of the survey that failed"`
}

// A Line is a shaft by its points.
type Line struct {
	Shaft  string  `json:"shaft" about:"machine, or machine and shaft"`
	X      Number  `json:"x" about:"train station in the middle of its points" unit:"length"`
	V      Tilt    `json:"v" about:"there, vertical, in the frame of the survey"`
	H      Tilt    `json:"h" about:"there, horizontal, in the frame of the survey"`
	Half   Tilt    `json:"half" about:"95 % half-widths, of v and h alike"`
	Points []Point `json:"points" about:"its points"`
}

// A Point is one that was measured.
type Point struct {
	X    Number `json:"x" about:"station of the machine's own" unit:"length"`
	V    Number `json:"v" about:"as measured, + up" unit:"move"`
	H    Number `json:"h" about:"as measured, + left" unit:"move"`
	OffV Number `json:"off_v" about:"residual from the line, + above it" unit:"move"`
	OffH Number `json:"off_h" about:"residual from the line, + left of it" unit:"move"`
}

// A Between is a coupling by the lines of its two shafts.
type Between struct {
	Name     string `json:"name" about:"name of the coupling"`
	Used     bool   `json:"used" about:"what was found is the survey's; else it was read or given"`
	Found    Half   `json:"found" about:"misalignment by the survey"`
	Half     Tilt   `json:"half" about:"95 % half-widths, of v and h alike"`
	Far      Number `json:"far" about:"95 % half-width of that at the farthest foot" unit:"move"`
	Apart    *Half  `json:"apart,omitempty" about:"by the survey less what was read or given"`
	Expected *Tilt  `json:"expected,omitempty" about:"95 % half-widths of that; null: not known"`
}

// A Round is a closure error.
type Round struct {
	First    string `json:"first" about:"first coupling of the sum"`
	Last     string `json:"last" about:"last coupling of the sum"`
	X        Number `json:"x" about:"train station that the sum is taken at" unit:"length"`
	V        Tilt   `json:"v" about:"closure error, vertical"`
	H        Tilt   `json:"h" about:"closure error, horizontal"`
	Expected Tilt   `json:"expected" about:"95 % half-widths that the errors explain; null: not known"`
}

// A FailedPoint is a check of a survey that failed.
type FailedPoint struct {
	Kind  string `json:"kind" about:"copy, point, shafts, survey, survey_angle or round"`
	Size  Number `json:"size" about:"how far it is off, in size" unit:"point"`
	Limit Number `json:"limit" about:"how far it may be off" unit:"point"`
	Text  string `json:"text" about:"what to check, in words"`
}

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
